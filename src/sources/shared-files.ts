import { type SharedKind, sharedCache, sharedKindOf } from './offline-parts.ts'

/**
 * Takes the files of one kind that the system's share sheet has sent, oldest first, and forgets them.
 * The service worker left them in a cache and opened the app with an outcome in the address.
 */
export async function takeSharedFiles(kind: SharedKind): Promise<File[]> {
  if (!('caches' in globalThis) || !(await caches.has(sharedCache))) return []
  const cache = await caches.open(sharedCache)
  const files: File[] = []
  for (const request of await cache.keys()) {
    const name = new URL(request.url).searchParams.get('name') ?? 'shared file'
    const response = await cache.match(request)
    if (response === undefined) continue
    const type = response.headers.get('Content-Type') ?? ''
    if (sharedKindOf({ name, type }) !== kind) continue
    files.push(new File([await response.blob()], name, { type }))
    await cache.delete(request)
  }
  return files
}

export interface ShareOutcome {
  /** How many files came; 'failed' when they could not be received (no service worker, no space). */
  readonly came: number | 'failed'
  /** Texts that came along with photos and wait at the spectrum way. */
  readonly texts: number
}

/**
 * How a share ended; undefined when the app was not opened by sharing.
 *
 * @param search the query of the address, `location.search`
 */
export function shareOutcome(search: string): ShareOutcome | undefined {
  const said = new URLSearchParams(search)
  const came = said.get('shared')
  if (came === null) return undefined
  const count = (text: string) => (/^\d+$/.test(text) ? Number(text) : undefined)
  return { came: count(came) ?? 'failed', texts: count(said.get('texts') ?? '') ?? 0 }
}
