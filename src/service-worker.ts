/**
 * Keeps the app for offline use, isolates it from other origins, and receives shared files.
 * A new version waits until the page tells it to take over: the user may have unsaved work.
 */
import { cacheNames, clientsClaim } from 'workbox-core'
import {
  addPlugins,
  cleanupOutdatedCaches,
  createHandlerBoundToURL,
  getCacheKeyForURL,
  precacheAndRoute,
} from 'workbox-precaching'
import { NavigationRoute, registerRoute } from 'workbox-routing'
import { headersFor } from '../scripts/csp.mjs'
import {
  type KeepAnswer,
  type KeepRequest,
  type OfflinePart,
  offlinePartOf,
  partsCache,
  sharedCache,
  sharedKindOf,
  sharedPlace,
  shareFields,
  sharePath,
} from './sources/offline-parts.ts'

interface BuiltFile {
  url: string
  /** A hash of the content where the name carries none. */
  revision: string | null
}
declare const self: ServiceWorkerGlobalScope

// The build writes no bare names into the list, which the type of Workbox would allow.
const files = self.__WB_MANIFEST as BuiltFile[]
const partOf = (file: BuiltFile) => offlinePartOf(pathOf(file))
const heavy = files.filter((file) => partOf(file) !== undefined)

// So that lazily loaded screens come from the cache already during the first visit.
clientsClaim()

addPlugins([
  {
    handlerWillRespond: async ({ request, response }) =>
      guarded(response, new URL(request.url).pathname),
  },
])
cleanupOutdatedCaches()
precacheAndRoute(
  files.filter((file) => partOf(file) === undefined),
  { ignoreURLParametersMatching: [/.*/] },
)
registerRoute(new NavigationRoute(createHandlerBoundToURL('/index.html')))
registerRoute(
  ({ url, sameOrigin }) => sameOrigin && keyOf(url.pathname) !== undefined,
  async ({ url }) => guarded(await heavyFile(url.pathname), url.pathname),
)
registerRoute(({ url, sameOrigin }) => sameOrigin && url.pathname === sharePath, receive, 'POST')

self.addEventListener('activate', (event) => event.waitUntil(dropOldParts()))

self.addEventListener('message', (event) => {
  const request = event.data as KeepRequest | { type: 'SKIP_WAITING' | 'MEND_SHELL' }
  if (request.type === 'SKIP_WAITING') event.waitUntil(self.skipWaiting())
  if (request.type === 'MEND_SHELL') event.waitUntil(mendShell())
  if (request.type === 'KEEP_PART') {
    const port = event.ports[0]
    const answer = (kept: boolean) => port?.postMessage({ kept } satisfies KeepAnswer)
    event.waitUntil(
      keepPart(request.part).then(
        () => answer(true),
        () => answer(false),
      ),
    )
  }
})

function pathOf(file: BuiltFile): string {
  return new URL(file.url, self.location.origin).pathname
}

/** The key of a heavy file in its cache: names the version. Undefined for any other file. */
function keyOf(path: string): string | undefined {
  const file = heavy.find((candidate) => pathOf(candidate) === path)
  return file && `${path}?revision=${file.revision ?? 'named'}`
}

/** From the cache, else from the network and then kept. */
async function heavyFile(path: string): Promise<Response> {
  const key = keyOf(path) ?? path
  const cache = await caches.open(partsCache)
  const kept = await cache.match(key)
  if (kept !== undefined) return kept
  const response = await fetch(path)
  // A full storage must not keep the file from the page that asked for it.
  if (response.ok) await cache.put(key, response.clone()).catch(() => undefined)
  return response
}

async function keepPart(part: OfflinePart): Promise<void> {
  const cache = await caches.open(partsCache)
  for (const file of heavy.filter((candidate) => partOf(candidate) === part)) {
    const path = pathOf(file)
    const response = await heavyFile(path)
    if (!response.ok || !(await cache.match(keyOf(path) ?? path))) throw new Error(path)
  }
}

/**
 * A browser that is short of space may drop caches and leave this worker: the shell is then fetched
 * again, all of it or nothing, so that files of two versions never stand together.
 */
async function mendShell(): Promise<void> {
  const cache = await caches.open(cacheNames.precache)
  const kept = new Set((await cache.keys()).map(({ url }) => url))
  const missing = files
    .filter((file) => partOf(file) === undefined)
    .map((file) => ({ file, key: getCacheKeyForURL(file.url) }))
    .filter(({ key }) => key !== undefined && !kept.has(key))
  const fetched = await Promise.all(
    missing.map(async ({ file, key }) => {
      const response = await fetch(file.url, {
        cache: file.revision === null ? 'default' : 'reload',
      })
      if (!response.ok) throw new Error(file.url)
      return { key: key!, response }
    }),
  )
  for (const { key, response } of fetched) await cache.put(key, response)
}

async function dropOldParts(): Promise<void> {
  const cache = await caches.open(partsCache)
  const current = new Set(heavy.map((file) => keyOf(pathOf(file))))
  for (const { url } of await cache.keys()) {
    const { pathname, search } = new URL(url)
    if (!current.has(pathname + search)) await cache.delete(url)
  }
}

/** Adds the policies and the headers of cross-origin isolation, for hosts that cannot send them. */
function guarded(response: Response, path: string): Response {
  if (response.type === 'error' || response.type === 'opaque') return response
  const headers = new Headers(response.headers)
  for (const [name, value] of Object.entries(headersFor(path))) headers.set(name, value)
  const { status, statusText } = response
  return new Response(response.body, { status, statusText, headers })
}

/** Puts shared files where the page finds them and sends the browser to the place that reads them. */
async function receive({ request }: { request: Request }): Promise<Response> {
  const open = (came: Parameters<typeof sharedPlace>[0]) =>
    Response.redirect(new URL(sharedPlace(came), self.location.origin), 303)
  try {
    const form = await request.formData()
    const files = Object.values(shareFields)
      .flatMap((field) => form.getAll(field))
      .filter((entry) => entry instanceof File)
    const cache = await caches.open(sharedCache)
    const unread = (await cache.keys()).length
    for (const [index, file] of files.entries()) {
      const name = new URLSearchParams({ name: file.name })
      const type = file.type || 'application/octet-stream'
      await cache.put(
        `${sharePath}/${unread + index}?${name}`,
        new Response(file, { headers: { 'Content-Type': type } }),
      )
    }
    const texts = files.filter((file) => sharedKindOf(file) === 'spectrum').length
    return open({ photos: files.length - texts, texts })
  } catch {
    return open('failed')
  }
}
