/**
 * The photo that is being read and what was said about it, kept across a reload: an update, a phone
 * that ran out of memory, a tab closed by mistake. The Cache API holds the photo (it takes blobs of
 * any size without a schema), one entry each.
 */
const PHOTO = '/in-hand/photo'
const NOTES = '/in-hand/notes'

export interface PhotoDraftContent {
  readonly blob: Blob
  readonly name: string
  /** For simulated photos: the true temperature, K. */
  readonly truthK: number | null
  /** Plain JSON of the screen: region and choices. */
  readonly notes: unknown
}

/** One pair of hands: the photo of one screen. Failures are silent: only a reload would lose it. */
export interface PhotoDraft {
  keepPhoto(blob: Blob, name: string, truthK: number | null): Promise<void>
  keepNotes(notes: unknown): Promise<void>
  /** What was in hand when the page went away; undefined when the hands were empty. */
  work(): Promise<PhotoDraftContent | undefined>
  discard(): Promise<void>
}

const available = () => 'caches' in globalThis

/** @param name of the cache; each screen has one of its own */
export function photoDraftOf(name: string): PhotoDraft {
  return {
    async keepPhoto(blob, photoName, truthK) {
      if (!available()) return
      try {
        const cache = await caches.open(name)
        await cache.delete(NOTES)
        await cache.put(
          PHOTO,
          new Response(blob, {
            headers: {
              'x-name': encodeURIComponent(photoName),
              'x-truth': truthK === null ? '' : `${truthK}`,
            },
          }),
        )
      } catch {
        // Full or refused storage: see above.
      }
    },

    async keepNotes(notes) {
      if (!available()) return
      try {
        await (await caches.open(name)).put(NOTES, new Response(JSON.stringify(notes)))
      } catch {
        // As above.
      }
    },

    async work() {
      if (!available() || !(await caches.has(name))) return undefined
      try {
        const cache = await caches.open(name)
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
    },

    async discard() {
      if (available()) await caches.delete(name).catch(() => false)
    },
  }
}

export const readingPhotoDraft = photoDraftOf('work-in-hand')
export const capturePhotoDraft = photoDraftOf('kit-in-hand')
