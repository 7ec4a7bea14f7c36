import { sharedCache } from './offline-parts.ts'

/**
 * Takes the photos that the system's share sheet has sent, oldest first, and forgets them. The
 * service worker left them in a cache and opened the app with `?shared=` in the address.
 */
export async function takeSharedPhotos(): Promise<File[]> {
  if (!('caches' in globalThis) || !(await caches.has(sharedCache))) return []
  const cache = await caches.open(sharedCache)
  const photos: File[] = []
  for (const request of await cache.keys()) {
    const response = await cache.match(request)
    if (response === undefined) continue
    const name = new URL(request.url).searchParams.get('name') ?? 'photo'
    photos.push(
      new File([await response.blob()], name, { type: response.headers.get('Content-Type') ?? '' }),
    )
    await cache.delete(request)
  }
  return photos
}

/**
 * How a share ended: the number of photos that came, 'failed' when they could not be received
 * (no service worker, no space), undefined when the app was not opened by sharing.
 *
 * @param search the query of the address, `location.search`
 */
export function shareOutcome(search: string): number | 'failed' | undefined {
  const shared = new URLSearchParams(search).get('shared')
  if (shared === null) return undefined
  return /^\d+$/.test(shared) ? Number(shared) : 'failed'
}
