/**
 * The photo that is being read and what was said about it, kept across a reload: an update, a phone
 * that ran out of memory, a tab closed by mistake. The Cache API holds the photo (it takes blobs of
 * any size without a schema), one entry each.
 */
const CACHE = 'work-in-hand'
const PHOTO = '/in-hand/photo'
const NOTES = '/in-hand/notes'

export interface WorkInHand {
  readonly blob: Blob
  readonly name: string
  /** For simulated photos: the true temperature, K. */
  readonly truthK: number | null
  /** Plain JSON of the screen: region and choices. */
  readonly notes: unknown
}

const available = () => 'caches' in globalThis

/** Keeps a photo. Failure is silent: the person's work goes on, only a reload would lose it. */
export async function keepPhotoInHand(
  blob: Blob,
  name: string,
  truthK: number | null,
): Promise<void> {
  if (!available()) return
  try {
    const cache = await caches.open(CACHE)
    await cache.delete(NOTES)
    await cache.put(
      PHOTO,
      new Response(blob, {
        headers: {
          'x-name': encodeURIComponent(name),
          'x-truth': truthK === null ? '' : `${truthK}`,
        },
      }),
    )
  } catch {
    // Full or refused storage: see above.
  }
}

export async function keepNotesInHand(notes: unknown): Promise<void> {
  if (!available()) return
  try {
    await (await caches.open(CACHE)).put(NOTES, new Response(JSON.stringify(notes)))
  } catch {
    // As above.
  }
}

/** What was in hand when the page went away; undefined when the hands were empty. */
export async function workInHand(): Promise<WorkInHand | undefined> {
  if (!available() || !(await caches.has(CACHE))) return undefined
  try {
    const cache = await caches.open(CACHE)
    const photo = await cache.match(PHOTO)
    if (!photo) return undefined
    const notes = await cache.match(NOTES)
    const truth = photo.headers.get('x-truth')
    return {
      blob: await photo.blob(),
      name: decodeURIComponent(photo.headers.get('x-name') ?? 'photo'),
      truthK: truth ? Number(truth) : null,
      notes: notes ? await notes.json() : null,
    }
  } catch {
    return undefined
  }
}

export async function putDownWork(): Promise<void> {
  if (available()) await caches.delete(CACHE).catch(() => false)
}
