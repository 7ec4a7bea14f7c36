import type { ToneCurveCheck } from '../../light/exposure-sweep/check-tone-curve.ts'
import type { SweepFrame, SweepResult } from '../../light/exposure-sweep/sweep-result.ts'
import type { ToneCurve } from '../../light/exposure-sweep/tone-curve.ts'
import type { Region, StoredImage } from '../../light/image.ts'
import { grown, type PixelBox, pixelBox } from '../../light/region.ts'
import { exposureFromFacts, type PhotoFacts } from '../files/photo-facts.ts'
import { type OpenOptions, openPhoto, type Photo } from '../photo/photo-client.ts'
import { WorkerCalls, type WorkerPort } from '../worker-calls.ts'
import type { SweepOperations } from './sweep-operations.ts'

/** One photo of a sweep as it was picked. */
export interface SweepPhoto {
  readonly name: string
  readonly facts: PhotoFacts
  /** Relative exposure by the camera's own record; null where the file does not say. */
  readonly exposure: number | null
}

export interface MeasureOptions {
  readonly onProgress?: (share: number) => void
  /** Where a grey card lies in all of the photos, whose colour the balance is followed by. */
  readonly card?: Region | null
  /** Odds of a curve on each channel, by other sweeps of this camera. */
  readonly channelOdds?: number
}

/** The photos of one sweep, in the order of taking. Only one of them is held decoded. */
export interface Sweep {
  readonly photos: readonly SweepPhoto[]
  /** The brightest photo in which the glow can be read: it is shown and the region is set in it. */
  readonly base: Photo
  readonly baseIndex: number
  /**
   * Measures the sweep; the latest call wins.
   *
   * @param exposures relative exposure of each photo, in their order, > 0
   */
  measure(
    region: Region,
    exposures: readonly number[],
    options?: MeasureOptions,
  ): Promise<SweepResult>
  /** Holds a tone curve found earlier against the photos; likewise. */
  check(
    curve: ToneCurve,
    region: Region,
    exposures: readonly number[],
    onProgress?: (share: number) => void,
  ): Promise<ToneCurveCheck>
  close(): void
}

/** Pixels around the region that alignment and background need at least. */
const MARGIN = 48

/** Order of taking: the camera's clock where all state it, else the names, as cameras count them. */
function inOrder(photos: readonly (SweepPhoto & { readonly file: File })[]) {
  const dated = photos.every(({ facts }) => facts.takenAt !== null)
  const key = ({ facts, name }: SweepPhoto) => (dated ? `${facts.takenAt} ${name}` : name)
  return [...photos].sort((a, b) => key(a).localeCompare(key(b), 'en', { numeric: true }))
}

/**
 * Opens the photos of a sweep one after the other, so that a phone holds one bitmap at a time.
 *
 * @throws PhotoRefused with the name of the photo in `cause`; an AbortError when the signal aborts
 */
export async function openSweep(
  files: readonly File[],
  { signal, onProgress }: OpenOptions = {},
): Promise<Sweep> {
  const seen: (SweepPhoto & { file: File; redLevel: number })[] = []
  for (const [i, file] of files.entries()) {
    const photo = await openPhoto(file, signal ? { signal } : {})
    const { facts, glow } = photo
    photo.close()
    seen.push({
      file,
      name: file.name,
      facts,
      exposure: exposureFromFacts(facts),
      redLevel: glow.kind === 'found' && !glow.besideClipped ? glow.redLevel : -1,
    })
    onProgress?.((i + 1) / (files.length + 1))
  }
  const ordered = inOrder(seen) as typeof seen
  const baseIndex = ordered.reduce(
    (best, { redLevel }, i) => (redLevel > (ordered[best]?.redLevel ?? -1) ? i : best),
    0,
  )
  const baseFile = ordered[baseIndex]?.file
  if (!baseFile) throw new Error('a sweep without photos')
  const base = await openPhoto(baseFile, signal ? { signal } : {})
  return sweepOf(
    ordered.map(({ file }) => file),
    ordered,
    base,
    baseIndex,
  )
}

function sweepOf(
  files: readonly File[],
  photos: readonly SweepPhoto[],
  base: Photo,
  baseIndex: number,
): Sweep {
  const worker = new Worker(new URL('./sweep.worker.ts', import.meta.url), { type: 'module' })
  const calls = new WorkerCalls<SweepOperations>(
    worker as WorkerPort,
    () => new Error('a sweep has no refusals of this kind'),
  )
  let closed = false
  const kept: Record<'glow' | 'card', { box: PixelBox; crops: StoredImage[] } | null> = {
    glow: null,
    card: null,
  }
  let reading: Promise<unknown> = Promise.resolve()
  let latest = 0

  const readCrops = async (box: PixelBox, onProgress?: (share: number) => void) => {
    const region: Region = {
      shape: 'rectangle',
      x: box.left,
      y: box.top,
      width: box.right - box.left,
      height: box.bottom - box.top,
    }
    const crops: StoredImage[] = []
    for (const [i, file] of files.entries()) {
      if (closed) throw new DOMException('The sweep was closed.', 'AbortError')
      if (i === baseIndex) crops.push(await base.readStored(region))
      else {
        const photo = await openPhoto(file)
        try {
          crops.push(await photo.readStored(region))
        } finally {
          photo.close()
        }
      }
      onProgress?.((i + 1) / files.length)
    }
    return { box, crops }
  }

  /** Crops of all photos, read again where those at hand do not hold what is needed. */
  const cropsOf = async (
    what: 'glow' | 'card',
    mine: number,
    fits: (box: PixelBox) => boolean,
    wanted: () => PixelBox,
    onProgress?: (share: number) => void,
  ) => {
    const before = kept[what]
    if (before && fits(before.box)) return before
    const work = reading.then(async () => {
      if (mine !== latest) throw new DOMException('A later call took its place.', 'AbortError')
      return readCrops(wanted(), onProgress)
    })
    reading = work.catch(() => undefined)
    const made = await work
    kept[what] = made
    return made
  }

  /** The photos around the region, in the worker's form. */
  const photographed = async (
    region: Region,
    exposures: readonly number[],
    onProgress?: (share: number) => void,
    card: Region | null = null,
  ) => {
    const mine = ++latest
    const needed = pixelBox(grown(region, MARGIN), base.width, base.height)
    // A generous crop: the region may be moved a little without reading everything again.
    const margin = Math.max(2 * MARGIN, region.width / 2, region.height / 2)
    const { box, crops } = await cropsOf(
      'glow',
      mine,
      (at) => contains(at, needed),
      () => pixelBox(grown(region, margin), base.width, base.height),
      onProgress,
    )
    const cardBox = card && pixelBox(middleOf(card), base.width, base.height)
    const cards =
      cardBox &&
      (await cropsOf(
        'card',
        mine,
        (at) => contains(at, cardBox) && contains(cardBox, at),
        () => cardBox,
        onProgress,
      ))
    const frames: SweepFrame[] = crops.map((image, i) => ({
      image,
      relativeExposure: exposures[i] as number,
      ...(cards && { card: cards.crops[i]! }),
    }))
    const inCrop = { ...region, x: region.x - box.left, y: region.y - box.top }
    return { frames, region: inCrop, steps: base.codingSteps, base: baseIndex }
  }

  return {
    photos,
    base,
    baseIndex,
    async measure(region, exposures, { onProgress, card, channelOdds = 1 } = {}) {
      const input = await photographed(region, exposures, onProgress, card)
      return calls.call('measure', { ...input, channelOdds }, { latest: true })
    },
    async check(curve, region, exposures, onProgress) {
      const input = await photographed(region, exposures, onProgress)
      return calls.call('check', { ...input, curve }, { latest: true })
    },
    close() {
      closed = true
      calls.close()
      base.close()
    },
  }
}

/** Largest side of the piece of card that is read; its edges may lie elsewhere in other photos. */
const CARD_SIDE = 96

/** The middle half of a card. */
function middleOf(card: Region): Region {
  const width = Math.min(card.width / 2, CARD_SIDE)
  const height = Math.min(card.height / 2, CARD_SIDE)
  const x = card.x + (card.width - width) / 2
  const y = card.y + (card.height - height) / 2
  return { shape: 'rectangle', x, y, width, height }
}

const contains = (outer: PixelBox, inner: PixelBox) =>
  outer.left <= inner.left &&
  outer.top <= inner.top &&
  outer.right >= inner.right &&
  outer.bottom >= inner.bottom
