import type { ToneCurveCheck } from '../../light/exposure-sweep/check-tone-curve.ts'
import type { SweepFrame, SweepResult } from '../../light/exposure-sweep/sweep-result.ts'
import type { ToneCurve } from '../../light/exposure-sweep/tone-curve.ts'
import type { Region, StoredImage } from '../../light/image.ts'
import { evenBox, frameCodes } from '../../light/live/frame-codes.ts'
import { frameMean } from '../../light/live/frame-mean.ts'
import { nextExposure, sweepExposures } from '../../light/live/longest-exposure.ts'
import { wholeHalfCycles } from '../../light/live/mains.ts'
import { grown, type PixelBox, pixelBox } from '../../light/region.ts'
import type { LiveCamera } from '../../sources/live/live-camera.ts'
import { isRange } from '../../sources/live/lock.ts'
import type { LiveModel } from './live-model-type.ts'

/** Exposure times are counted in 100 µs (W3C Image Capture, exposureTime). */
export const UNIT_SECONDS = 1e-4
/** Frames that a camera takes to follow a setting, and frames averaged at each exposure. */
const SETTLING = 2
const AVERAGED = 4
const ATTEMPTS = 10
/** Frames in which the whole picture has been looked at anew. */
const LOOKED = 30
/** Pixels around the region that the sweep wants to see. */
const MARGIN = 48

/** Range of exposure times where they can be set. */
export function exposureRange(camera: LiveCamera): readonly [number, number] | null {
  const { exposureTime, exposureMode } = camera.capabilities()
  const manual = Array.isArray(exposureMode) && exposureMode.includes('manual')
  return manual && isRange(exposureTime) ? [exposureTime.min, exposureTime.max] : null
}

/**
 * The longest exposure in which nothing of the glow clips, of whole half-cycles of the mains where it
 * is so long, in the camera's unit; null where it cannot be set or no glow is found.
 */
export async function findExposure(model: LiveModel, mainsHz: number): Promise<number | null> {
  const { camera } = model
  const range = exposureRange(camera)
  if (!range) return null
  let now = Number(camera.settings().exposureTime)
  // So much too bright that the glow is not seen as one: darker until it is.
  for (let i = 0; i < ATTEMPTS && !model.region.peek(); i++) {
    if (model.trouble.peek() !== 'clipped') return null
    now = Math.max(now / 4, range[0])
    await camera.apply('exposureTime', now)
    await frames(camera, LOOKED)
  }
  for (let i = 0; i < ATTEMPTS; i++) {
    const region = model.region.peek()
    if (!region) return null
    const { width, height } = camera.size()
    const box = evenBox(pixelBox(region, width, height), width, height)
    await frames(camera, SETTLING)
    const { linear, clippedShare } = frameMean(await oneCrop(camera, box))
    const next = nextExposure(now, Math.max(...linear), clippedShare, range)
    if (next === null) break
    now = next
    await camera.apply('exposureTime', now)
  }
  const seconds = wholeHalfCycles(now * UNIT_SECONDS, mainsHz)
  now = Math.min(Math.max(seconds / UNIT_SECONDS, range[0]), range[1])
  await camera.apply('exposureTime', now)
  return now
}

/**
 * An exposure sweep by the camera itself: frames averaged at each of some 20 exposures, a few seconds.
 * The exposure is put back afterwards.
 */
export function runSweep(
  model: LiveModel,
  onProgress: (share: number) => void,
): Promise<SweepResult | null> {
  return exposed(model, sweepExposures, onProgress, (frames, region) =>
    model.bench.sweep({ frames, region }),
  )
}

/** Exposures against which a kept curve is held: two stops apart. */
const pair = (now: number, [least]: readonly [number, number]) => [now, Math.max(now / 4, least)]

/** Whether a kept tone curve still holds for this stream; null where the exposure cannot be set. */
export function checkCurve(model: LiveModel, curve: ToneCurve): Promise<ToneCurveCheck | null> {
  return exposed(
    model,
    pair,
    () => undefined,
    (frames, region) => model.bench.check({ curve, frames, region }),
  )
}

/** Takes frames at several exposures and hands them on with the region in them. */
async function exposed<Result>(
  model: LiveModel,
  exposuresOf: (now: number, range: readonly [number, number]) => number[],
  onProgress: (share: number) => void,
  use: (frames: readonly SweepFrame[], region: Region) => Promise<Result>,
): Promise<Result | null> {
  const { camera } = model
  const range = exposureRange(camera)
  const region = model.region.peek()
  if (!range || !region) return null
  const before = Number(camera.settings().exposureTime)
  const { width, height } = camera.size()
  const box = evenBox(
    pixelBox({ ...grown(region, MARGIN), shape: 'rectangle' }, width, height),
    width,
    height,
  )
  model.pause.value = true
  try {
    const exposures = exposuresOf(before, range)
    const taken: SweepFrame[] = []
    for (const [i, wanted] of exposures.entries()) {
      await camera.apply('exposureTime', wanted)
      await frames(camera, SETTLING)
      // What the camera really set: steps are not continuous.
      const relativeExposure = Number(camera.settings().exposureTime)
      taken.push({ image: await meanCrop(camera, box), relativeExposure })
      onProgress((i + 1) / (exposures.length + 1))
    }
    const inCrop = { ...region, x: region.x - box.left, y: region.y - box.top }
    return await use(taken, inCrop)
  } finally {
    await camera.apply('exposureTime', before).catch(() => undefined)
    model.pause.value = false
  }
}

/** Waits for a number of new frames; a stream that stands still rejects. */
function frames(camera: LiveCamera, count: number): Promise<void> {
  return new Promise((resolve, reject) => {
    let left = count
    const timer = setTimeout(() => {
      stop()
      reject(new Error('no frames from the camera'))
    }, 4000)
    const stop = camera.onFrame(() => {
      if (--left > 0) return
      clearTimeout(timer)
      stop()
      resolve()
    })
  })
}

async function oneCrop(camera: LiveCamera, box: PixelBox): Promise<StoredImage> {
  const frame = camera.frame()
  if (!frame) throw new Error('no frame from the camera')
  try {
    return frameCodes(await frame.copy(box))
  } finally {
    frame.close()
  }
}

async function meanCrop(camera: LiveCamera, box: PixelBox): Promise<StoredImage> {
  const first = await oneCrop(camera, box)
  for (let n = 1; n < AVERAGED; n++) {
    await frames(camera, 1)
    const { codes } = await oneCrop(camera, box)
    for (let i = 0; i < codes.length; i++) first.codes[i]! += codes[i]!
  }
  for (let i = 0; i < first.codes.length; i++) first.codes[i]! /= AVERAGED
  return first
}
