import type { Triple } from '../../colour/vectors.ts'
import { liveLine } from '../../estimate/live/live-line.ts'
import type { GlowInput, Linearity } from '../../estimate/types.ts'
import { applyToneCurve, toneCurveUncertainty } from '../../light/exposure-sweep/tone-curve.ts'
import { findGlow } from '../../light/find-glow.ts'
import type { Region, StoredImage } from '../../light/image.ts'
import { evenBox, frameCodes } from '../../light/live/frame-codes.ts'
import { frameMean } from '../../light/live/frame-mean.ts'
import { measureGlow } from '../../light/measure-glow.ts'
import { measurePhoto, type PhotoMeasurement, surroundings } from '../../light/measure-photo.ts'
import { type PixelBox, pixelBox, scaledRegion } from '../../light/region.ts'
import type { Look, LookInput } from './live-operations.ts'

/** Pixels of the finder's small picture at most. */
const FINDER_PIXELS = 130_000
/** Largest side of a region that is read: more pixels say nothing new. */
const LARGEST_SIDE = 96

/** Finds and measures the glow in a whole frame, with the estimate and its slope. Some 0.2 s. */
export function look({ pixels, sight, settings, curve }: LookInput): Look {
  const step = Math.max(1, Math.ceil(Math.sqrt((pixels.width * pixels.height) / FINDER_PIXELS)))
  const small = frameCodes(pixels, step)
  const found = sight ? null : findGlow(small)
  const absence = found?.kind === 'none' ? found.reason : null
  const region = sight ?? (found?.kind === 'found' ? core(scaledRegion(found.region, step)) : null)
  const none = { region: null, measurement: null, plain: null, line: null, surroundings: null }
  if (!region) return { ...none, absence }
  const whole = frameCodes(pixels)
  const stored = crop(whole, surroundings(region, whole.width, whole.height))
  const moved = { ...region, x: region.x - stored.left, y: region.y - stored.top }
  const options = { chromaSubsampled: pixels.format === 'I420' || pixels.format === 'NV12' }
  const plain = measurePhoto(stored.image, moved, options)
  const measurement: PhotoMeasurement = curve.recovered
    ? {
        ...plain,
        ...measureGlow(applyToneCurve(curve.recovered, stored.image), moved, options),
      }
    : plain
  const linearity: Linearity = curve.recovered
    ? sweptLinearity(curve.id, toneCurveUncertainty(curve.recovered, plain.storedLevels))
    : { kind: 'single', curveId: curve.id, storedLevels: plain.storedLevels, space: 'srgb' }
  const { glow, quality, refused, background } = measurement
  const input: GlowInput = { ...settings, glow, quality, linearity }
  const dark = background?.colour.mean
  return {
    region,
    absence,
    measurement,
    plain: plainMean(whole, region),
    line: refused ? null : liveLine(input),
    surroundings: dark?.every((v) => v > 0.001)
      ? [Math.log(dark[1] / dark[0]), Math.log(dark[2] / dark[0])]
      : null,
  }
}

const sweptLinearity = (
  curveId: string,
  { green, blue }: { green: number; blue: number },
): Linearity => ({
  kind: 'sweep',
  curveId,
  standardUncertaintyGreen: green,
  standardUncertaintyBlue: blue,
})

/** The middle of a large region. */
function core(region: Region): Region {
  const width = Math.min(region.width, LARGEST_SIDE)
  const height = Math.min(region.height, LARGEST_SIDE)
  const x = region.x + (region.width - width) / 2
  const y = region.y + (region.height - height) / 2
  return { shape: region.shape, x, y, width, height }
}

function crop(image: StoredImage, box: PixelBox) {
  const width = box.right - box.left
  const height = box.bottom - box.top
  const codes = new Float32Array(3 * width * height)
  for (let y = 0; y < height; y++) {
    const from = 3 * ((box.top + y) * image.width + box.left)
    codes.set(image.codes.subarray(from, from + 3 * width), 3 * y * width)
  }
  return { image: { width, height, space: image.space, codes }, left: box.left, top: box.top }
}

/** The region as single frames are read: see frame-mean. */
function plainMean(image: StoredImage, region: Region): Triple {
  const box = evenBox(pixelBox(region, image.width, image.height), image.width, image.height)
  return frameMean(crop(image, box).image).linear
}
