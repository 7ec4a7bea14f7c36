import { mkdtemp, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { Browser } from 'playwright-core'
import { launchBrowser, phone, standing } from '../browser/browser.ts'
import { type Bench, median } from './figure.ts'

/** Main thread slowed down as on a mid-range phone; workers may not be, so they are counted apart. */
const slowdown = 4
const photo = { width: 4000, height: 3000 }

interface Run {
  /** From the file's arrival in the page to the first frame that shows its result. */
  totalMs: number
  /** Part of it in which a worker owed an answer. */
  workerMs: number
}

export const bench: Bench = async ({ short, url }) => {
  const browser = await launchBrowser()
  const folder = await mkdtemp(join(tmpdir(), 'glowbook-bench-'))
  try {
    const file = join(folder, 'bar.jpg')
    await writeFile(file, await makePhoto(browser))
    const runs = short ? 1 : 5
    const fast = await repeat(runs, () => openPhoto(browser, url, file, 1))
    const slow = await repeat(runs, () => openPhoto(browser, url, file, slowdown))
    const at1x = median(fast.map(({ totalMs }) => totalMs))
    const worker1x = median(fast.map(({ workerMs }) => workerMs))
    const measured4x = median(slow.map(({ totalMs }) => totalMs))
    const seconds = (ms: number) => ({ value: ms / 1000, unit: 's', timed: true })
    return [
      { name: '12 MP JPEG, open to result, 1x', ...seconds(at1x) },
      { name: 'of it a worker was busy', ...seconds(worker1x) },
      { name: `12 MP JPEG, page at ${slowdown}x`, ...seconds(measured4x) },
      {
        // As if the throttle had not reached the worker at all: an upper bound.
        name: `12 MP JPEG, page and worker at ${slowdown}x`,
        ...seconds(measured4x + (slowdown - 1) * worker1x),
        target: { atMost: 2.5 },
      },
    ]
  } finally {
    await browser.close()
    await rm(folder, { recursive: true })
  }
}

async function repeat<T>(times: number, run: () => Promise<T>): Promise<T[]> {
  const results: T[] = []
  for (let i = 0; i < times; i++) results.push(await run())
  return results
}

async function openPhoto(browser: Browser, url: string, file: string, rate: number): Promise<Run> {
  const context = await browser.newContext(phone)
  const page = await context.newPage()
  await page.addInitScript(watchWorkers)
  await page.goto(url)
  await standing(page)
  await page.waitForLoadState('networkidle')
  await page.evaluate(() => navigator.serviceWorker.ready)
  const session = await context.newCDPSession(page)
  await session.send('Emulation.setCPUThrottlingRate', { rate })
  const run = page.evaluate(timeToResult)
  const asked = page.waitForEvent('filechooser')
  await page.getByText('Open a photo', { exact: true }).click()
  const chooser = await asked
  // Nobody finds a photo faster.
  await page.waitForTimeout(1000)
  await chooser.setFiles(file)
  const result = await run
  await context.close()
  return result
}

/**
 * Runs in the page before its scripts: adds up the time in which a worker owes an answer. Calls and
 * answers carry a number; a message of progress is no answer.
 */
function watchWorkers(): void {
  const owed = new Set<string>()
  let since = 0
  let busyMs = 0
  let count = 0
  Object.assign(globalThis, {
    workerBusyMs: () => busyMs + (owed.size > 0 ? performance.now() - since : 0),
  })
  globalThis.Worker = class extends Worker {
    #name = `${count++}`
    constructor(address: string | URL, options?: WorkerOptions) {
      super(address, options)
      this.addEventListener('message', ({ data }) => {
        if ('progress' in data || !owed.delete(`${this.#name} ${data.id}`)) return
        if (owed.size === 0) busyMs += performance.now() - since
      })
    }
    override postMessage(message: unknown, transfer?: Transferable[] | StructuredSerializeOptions) {
      if (owed.size === 0) since = performance.now()
      owed.add(`${this.#name} ${(message as { id: unknown }).id}`)
      super.postMessage(message, transfer as Transferable[])
    }
  }
}

/** Runs in the page: waits for a file to be chosen, then for the frame that shows its result. */
function timeToResult(): Promise<Run> {
  const busy = () => (globalThis as unknown as { workerBusyMs: () => number }).workerBusyMs()
  return new Promise((resolve, reject) => {
    setTimeout(() => reject(new Error('No result within a minute.')), 60_000)
    let start = 0
    let busyBefore = 0
    const onArrival = () => {
      start = performance.now()
      busyBefore = busy()
    }
    document.addEventListener('change', onArrival, { capture: true, once: true })
    const look = () => {
      if (start === 0 || document.querySelector('.result') === null)
        return requestAnimationFrame(look)
      // The frame after the one in which it was found has painted it.
      requestAnimationFrame(() =>
        resolve({ totalMs: performance.now() - start, workerMs: busy() - busyBefore }),
      )
    }
    requestAnimationFrame(look)
  })
}

/** A glowing bar in a dark shop, with noise that gives the JPEG the weight of a real one: 3 to 4 MB. */
async function makePhoto(browser: Browser): Promise<Buffer> {
  const page = await browser.newPage()
  const base64 = await page.evaluate(drawPhoto, photo)
  await page.close()
  return Buffer.from(base64, 'base64')
}

async function drawPhoto({ width, height }: { width: number; height: number }): Promise<string> {
  const canvas = new OffscreenCanvas(width, height)
  const context = canvas.getContext('2d')
  if (context === null) throw new Error('No canvas.')
  const pixels = context.createImageData(width, height)
  let state = 1
  const noise = () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0
    return state / 2 ** 32 - 0.5
  }
  for (let y = 0, i = 0; y < height; y++) {
    for (let x = 0; x < width; x++, i += 4) {
      const across = Math.abs(y - height / 2) / (height * 0.06)
      const along = Math.abs(x - width / 2) / (width * 0.3)
      const glow = Math.max(0, 1 - across ** 4) * Math.max(0, 1 - along ** 4)
      pixels.data[i] = 18 + 205 * glow + 22 * noise()
      pixels.data[i + 1] = 17 + 70 * glow + 22 * noise()
      pixels.data[i + 2] = 16 + 4 * glow + 22 * noise()
      pixels.data[i + 3] = 255
    }
  }
  context.putImageData(pixels, 0, 0)
  const blob = await canvas.convertToBlob({ type: 'image/jpeg', quality: 0.92 })
  const bytes = new Uint8Array(await blob.arrayBuffer())
  let text = ''
  for (let at = 0; at < bytes.length; at += 32768)
    text += String.fromCharCode(...bytes.subarray(at, at + 32768))
  return btoa(text)
}
