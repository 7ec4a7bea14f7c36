import { batch, type ReadonlySignal, type Signal, signal } from '@preact/signals'
import type { Region } from '../../light/image.ts'
import { middleRegion } from '../../light/region-geometry.ts'
import { afterPaint } from '../../sources/after-paint.ts'
import type { PhotoFacts } from '../../sources/files/photo-facts.ts'
import { openPicture } from '../../sources/open-picture.ts'
import type { OpenOptions, Photo } from '../../sources/photo/photo.ts'

export interface Opening {
  readonly name: string
  /** 0..1, or null while unknown. */
  readonly progress: number | null
}

/** Why a file could not be opened: what the opener rejected with, and the file's name. */
export interface OpeningRefusal {
  readonly error: unknown
  readonly name: string
}

/** One open photo with the region that is read in it. A new one replaces it once it is sound. */
export interface PhotoSlot {
  readonly photo: ReadonlySignal<Photo | null>
  readonly region: ReadonlySignal<Region | null>
  /** Clipped and floor marks; made after the first measurement, see {@link PhotoSlot.showMarks}. */
  readonly marksUrl: ReadonlySignal<string | null>
  readonly opening: ReadonlySignal<Opening | null>
  /** Why the last file could not be opened; null when it could. */
  readonly refusal: Signal<OpeningRefusal | null>
  /** Resolves with the photo, or null when it was refused or cancelled: the former one stays. */
  open(blob: Blob, name: string): Promise<Photo | null>
  /** The same for anything that ends in a photo. */
  openBy(name: string, opener: (options: OpenOptions) => Promise<Photo>): Promise<Photo | null>
  cancel(): void
  /** What the person says of a file that does not say it. */
  setFacts(facts: PhotoFacts): void
  setRegion(region: Region): void
  showMarks(): void
  close(): void
}

/** Whether a slot shows this picture, whatever has been said of it meanwhile: see `setFacts`. */
export const showsPicture = (shown: Photo | null, of: Photo): boolean =>
  shown !== null && shown.measure === of.measure

/**
 * A question to an open photo has failed: said in the slot, but not where a later one took its place or the
 * photo was put away.
 *
 * @returns whether it was said: then what rests on the answer has to go
 */
export function saysFailure(
  { photo, refusal }: Pick<PhotoSlot, 'photo' | 'refusal'>,
  of: Photo,
  error: unknown,
  name = 'The photo',
): boolean {
  if ((error as Error).name === 'AbortError' || !showsPicture(photo.peek(), of)) return false
  refusal.value = { error, name }
  return true
}

export function createPhotoSlot(): PhotoSlot {
  const photo = signal<Photo | null>(null)
  const region = signal<Region | null>(null)
  const marksUrl = signal<string | null>(null)
  const opening = signal<Opening | null>(null)
  const refusal = signal<OpeningRefusal | null>(null)
  let abort: AbortController | null = null

  const close = () => {
    photo.peek()?.close()
    batch(() => {
      photo.value = null
      region.value = null
      marksUrl.value = null
    })
  }

  const openBy: PhotoSlot['openBy'] = async (name, opener) => {
    abort?.abort()
    const mine = new AbortController()
    abort = mine
    refusal.value = null
    opening.value = { name, progress: null }
    try {
      const opened = await opener({
        signal: mine.signal,
        onProgress: (progress) => {
          if (abort === mine) opening.value = { name, progress }
        },
      })
      if (mine.signal.aborted) {
        opened.close()
        return null
      }
      close()
      batch(() => {
        photo.value = opened
        region.value = opened.proposal ?? middleRegion(opened)
      })
      return opened
    } catch (error) {
      if (!mine.signal.aborted) refusal.value = { error, name }
      return null
    } finally {
      if (abort === mine) {
        opening.value = null
        abort = null
      }
    }
  }

  const marksOf = async (of: Photo) => {
    // Every pixel is looked at for the marks: only when the first answer is on the screen.
    await afterPaint()
    if (photo.peek() !== of) return
    const found = await of.marks()
    if (photo.peek() === of) marksUrl.value = found
  }

  return {
    photo,
    region,
    marksUrl,
    opening,
    refusal,
    open: (blob, name) => openBy(name, (options) => openPicture(blob, options)),
    openBy,
    cancel() {
      abort?.abort()
    },
    setFacts(facts) {
      const of = photo.peek()
      if (of) photo.value = { ...of, facts }
    },
    setRegion(next) {
      region.value = next
    },
    showMarks() {
      const of = photo.peek()
      if (of) void marksOf(of).catch(() => undefined)
    },
    close() {
      abort?.abort()
      close()
    },
  }
}
