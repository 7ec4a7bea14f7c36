import { signal } from '@preact/signals'
import type { Workbox } from 'workbox-window'
import type { KeepAnswer, KeepRequest, OfflinePart } from './offline-parts.ts'

/** A newer version of the app is there. It waits: applyUpdate() is the user's decision. */
export const updateReady = signal(false)

/** The shell of the app is kept on this device: it opens without a network from now on. */
export const offlineReady = signal(false)

/** How often a page that stays open asks for a newer version. */
const checkEveryMs = 60 * 60 * 1000

/** A word to a worker that is not heard is said again after this time. */
const ASK_AGAIN_MS = 3000

let worker: Workbox | undefined
let applying = false

/**
 * Registers the service worker, once, after the page has loaded, so that keeping the app for
 * offline use does not slow down its first appearance. Without service workers (an insecure
 * address, a private window of some browsers) nothing happens and offlineReady stays false.
 */
export async function startOfflineUse(): Promise<void> {
  if (!import.meta.env.PROD || worker !== undefined || !('serviceWorker' in navigator)) return
  await pageLoaded()
  const { Workbox } = await import('workbox-window')
  // At a first visit the worker takes over a page that had none: that is no newer version.
  const hadController = navigator.serviceWorker.controller !== null
  worker = new Workbox('/service-worker.js', { scope: '/' })
  worker.addEventListener('waiting', async () => {
    // The first version, too, waits a moment; on a slow device the page is told of it.
    const registration = await navigator.serviceWorker.getRegistration()
    if (registration?.active) updateReady.value = true
  })
  worker.addEventListener('activated', () => {
    offlineReady.value = true
  })
  worker.addEventListener('controlling', ({ isUpdate, isExternal }) => {
    if (applying) location.reload()
    // Taken over from another tab: this page keeps its work and goes on until it is reloaded.
    else if (hadController && (isUpdate || isExternal)) updateReady.value = true
  })
  const registration = await worker.register().catch(() => undefined)
  if (registration === undefined) return
  if (registration.active !== null) {
    offlineReady.value = true
    registration.active.postMessage({ type: 'MEND_SHELL' })
  }
  checkNowAndThen(registration)
}

/** Lets the newer version take over and reloads the page. Store unsaved work before. */
export async function applyUpdate(): Promise<void> {
  applying = true
  const registration = await navigator.serviceWorker.getRegistration()
  if (!registration?.waiting) return location.reload()
  const ask = () => worker?.messageSkipWaiting()
  ask()
  // Until the page goes: a busy device may fail to start the worker that is spoken to.
  setInterval(ask, ASK_AGAIN_MS)
}

/**
 * Fetches a heavy part and keeps it for offline use.
 *
 * @returns whether all of it is kept; false without a service worker, network or space
 */
export async function keepPart(part: OfflinePart): Promise<boolean> {
  const active = (await navigator.serviceWorker?.getRegistration())?.active
  if (!active) return false
  const { port1, port2 } = new MessageChannel()
  return new Promise((resolve) => {
    port1.onmessage = ({ data }: MessageEvent<KeepAnswer>) => {
      port1.close()
      resolve(data.kept)
    }
    active.postMessage({ type: 'KEEP_PART', part } satisfies KeepRequest, [port2])
  })
}

function pageLoaded(): Promise<void> {
  if (document.readyState === 'complete') return Promise.resolve()
  return new Promise((resolve) => addEventListener('load', () => resolve(), { once: true }))
}

/** An installed app may stay open for weeks: look again when the user comes back to it. */
function checkNowAndThen(registration: ServiceWorkerRegistration): void {
  let checkedAt = performance.now()
  document.addEventListener('visibilitychange', () => {
    const now = performance.now()
    if (document.visibilityState !== 'visible' || now - checkedAt < checkEveryMs) return
    checkedAt = now
    registration.update().catch(() => undefined) // without network there is no newer version
  })
}
