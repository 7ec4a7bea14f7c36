import { linearSrgbFromP3 } from '../../colour/rgb-spaces.ts'
import { linearityByCurve } from '../../estimate/linearity-by-curve.ts'
import { type LiveLine, liveLine } from '../../estimate/live/live-line.ts'
import type { GlowInput, Linearity } from '../../estimate/types.ts'
import { applyToneCurve } from '../../light/exposure-sweep/tone-curve.ts'
import { findGlow } from '../../light/find-glow.ts'
import type { Region, StoredImage } from '../../light/image.ts'
import { fieldRadius } from '../../light/lens-shading.ts'
import { cropped } from '../../light/live/cropped.ts'
import { evenBox, frameCodes } from '../../light/live/frame-codes.ts'
import { frameMean } from '../../light/live/frame-mean.ts'
import { measureGlow } from '../../light/measure-glow.ts'
import { measurePhoto, type PhotoMeasurement, surroundings } from '../../light/measure-photo.ts'
import { pixelBox, scaledRegion } from '../../light/region.ts'
import type { Triple } from '../../numerics/matrix3.ts'
import type { FrameLook, FrameLookInput } from './live-operations.ts'
import { lookAtCard } from './look-at-card.ts'

/** Pixels of the finder's small picture at most. */
const FINDER_PIXELS = 130_000
/** Share of clipped pixels that can be a glow: the least that can be read is about as large. */
const CLIPPED_SHARE = 0.002
/** Largest side of a region that is read: more pixels say nothing new. */
const LARGEST_SIDE = 96

/**
 * Finds and measures the glow in a whole frame, with the estimate and its slope. Some 0.1 s.
 *
 * @param lineOf may answer with the line of an earlier look; tests give one that knows of other cameras
 */
export function look(
  { pixels, sight, card, settings, curve, exposure }: FrameLookInput,
  lineOf: (input: GlowInput) => LiveLine = liveLine,
): FrameLook {
  const step = Math.max(1, Math.ceil(Math.sqrt((pixels.width * pixels.height) / FINDER_PIXELS)))
  const small = frameCodes(pixels, step)
  const found = sight ? null : findInSmall(small, step)
  const absence = found?.absence ?? null
  const region = sight ?? found?.region ?? null
  const whole = region || card ? frameCodes(pixels) : null
  const atCard = whole && card ? lookAtCard(whole, card, curve.recovered) : null
  const none = { region: null, measurement: null, plain: null, line: null, lnRatio: Number.NaN }
  const nothing = { ...none, background: null, surroundings: null }
  if (!region || !whole) return { ...nothing, card: atCard, absence }
  const around = surroundings(region, whole.width, whole.height)
  const stored = cropped(whole, around)
  const moved = { ...region, x: region.x - around.left, y: region.y - around.top }
  const options = { chromaSubsampled: pixels.format === 'I420' || pixels.format === 'NV12' }
  const plain = measurePhoto(stored, moved, options)
  const measurement: PhotoMeasurement = curve.recovered
    ? {
        ...plain,
        ...measureGlow(applyToneCurve(curve.recovered, stored), moved, options),
      }
    : plain
  const linearity: Linearity = curve.recovered
    ? linearityByCurve(curve.recovered, curve.id, plain.storedLevels, curve.movedBy)
    : { kind: 'single', curveId: curve.id, storedLevels: plain.storedLevels, space: 'srgb' }
  const { glow, quality, refused, background } = measurement
  // The card is read in the same frame: a moving balance moves both.
  const balance = atCard?.balance ? { ...atCard.balance, samePicture: true } : null
  const input: GlowInput = { ...settings, balance, glow, quality, linearity }
  const dark = background?.colour.mean
  // Frames are followed by their colour; their level is told beside it.
  const line = refused ? null : lineOf(input)
  const level = exposure && {
    ...exposure,
    fieldRadius: fieldRadius(region, whole),
    stream: true as const,
  }
  return {
    region,
    absence,
    measurement,
    card: atCard,
    plain: plainMean(whole, region),
    background: plain.background && linearSrgbFromP3(plain.background.colour.mean),
    line: line && level ? { ...line, input: { ...input, level } } : line,
    lnRatio: Math.log(glow.mean[1] / glow.mean[0]),
    surroundings: dark?.every((v) => v > 0.001)
      ? [Math.log(dark[1] / dark[0]), Math.log(dark[2] / dark[0]), Math.log(dark[0])]
      : null,
  }
}

/** The middle of the glow in a picture of which every so many-th pixel is given, or why there is none. */
export function findInSmall(
  small: StoredImage,
  step: number,
): { readonly region: Region | null; readonly absence: string | null } {
  const found = findGlow(small)
  return found.kind === 'found'
    ? { region: core(scaledRegion(found.region, step)), absence: null }
    : { region: null, absence: absenceIn(small, found.reason) }
}

/**
 * What is clipped has lost its colour and may be the glow, beside walls and cards that are not: then
 * the exposure is to be found first.
 */
const absenceIn = (small: StoredImage, reason: string) =>
  reason === 'no glow colour' && frameMean(small).clippedShare > CLIPPED_SHARE
    ? 'all clipped'
    : reason

/** The middle of a large region. */
function core(region: Region): Region {
  const width = Math.min(region.width, LARGEST_SIDE)
  const height = Math.min(region.height, LARGEST_SIDE)
  const x = region.x + (region.width - width) / 2
  const y = region.y + (region.height - height) / 2
  return { shape: region.shape, x, y, width, height }
}

/** The region as single frames are read: see frame-mean. */
function plainMean(image: StoredImage, region: Region): Triple {
  const box = evenBox(pixelBox(region, image.width, image.height), image.width, image.height)
  return frameMean(cropped(image, box)).linear
}
