/** The uncertainty of a reading not yet taken: what a kit is worth before it is used. */
import { decodeTransfer, encodeTransfer } from '../colour/rgb-spaces.ts'
import type { LinearColour } from '../light/image.ts'
import type { Triple } from '../numerics/matrix3.ts'
import type { CameraLocus } from './camera-locus/types.ts'
import { cameraPosterior, mostProbable } from './camera-posterior.ts'
import { CAMERA_LOCUS, estimateGlow } from './estimate-glow.ts'
import { expectedRatios } from './expected-ratios.ts'
import { glowProblem } from './glow-problem.ts'
import type { GlowEstimate, GlowInput, Linearity, TemperatureEstimate } from './types.ts'

/** A photo of a glow with ordinary care: relative standard uncertainty of its mean colour. */
const ORDINARY_PHOTO = 0.004
/** Steps towards the wanted temperature. */
const STEPS = 8
const CLOSE_K = 3
/** Out of range: a step back into it, K. */
const COME_BACK_K = 80

/** A photo of known colour of this camera, in this white-balance state, with this card. */
export type ReadingLike = Omit<GlowInput, 'quality' | 'window'> & {
  /** How a photo of this linear light would be linear; else as {@link GlowInput.linearity} says. */
  readonly linearityAt?: (light: Triple) => Linearity
}

/**
 * The estimate that a reading at a temperature would give, were its photo taken like this one.
 *
 * The photo's colour is moved along the camera's locus until the estimate reads the temperature;
 * red stays at the level that it has.
 *
 * @param temperatureK 950 to 3000 K; what counts is the uncertainty, so three kelvin are close enough
 * @param knownK temperature of what `like` shows, where it is known: a first step saved
 * @returns null where no such reading has a number
 */
export function predictedReading(
  like: ReadingLike,
  temperatureK: number,
  knownK: number | null = null,
  locus: CameraLocus = CAMERA_LOCUS,
): TemperatureEstimate | null {
  const steps = predictingReading(like, temperatureK, knownK, locus)
  for (;;) {
    const step = steps.next()
    if (step.done) return step.value
  }
}

/**
 * {@link predictedReading} with a pause after each estimate, so that the screen stays responsive.
 */
export function* predictingReading(
  like: ReadingLike,
  temperatureK: number,
  knownK: number | null = null,
  locus: CameraLocus = CAMERA_LOCUS,
): Generator<void, TemperatureEstimate | null> {
  return (yield* predictingPhoto(like, temperatureK, knownK, locus))?.estimate ?? null
}

/** A photo that reads a temperature, with what it reads. */
export interface PredictedPhoto {
  readonly input: GlowInput
  readonly estimate: TemperatureEstimate
}

/**
 * {@link predictingReading} with the photo that it supposes.
 *
 * @param closeK how near to the temperature is near enough
 * @param bearableK how near the nearest must be where the steps do not come so close
 */
export function* predictingPhoto(
  like: ReadingLike,
  temperatureK: number,
  knownK: number | null = null,
  locus: CameraLocus = CAMERA_LOCUS,
  closeK = CLOSE_K,
  bearableK = closeK,
): Generator<void, PredictedPhoto | null> {
  const asTaken = photo(like, { green: 1, blue: 1 })
  const posterior = mostProbable(cameraPosterior(glowProblem(asTaken, locus)))
  const expected = expectedRatios(posterior)
  const now = knownK ?? estimatedK(estimateGlow(asTaken, locus))
  yield
  if (now === null) return null
  const from = expected(now)
  let kelvin = temperatureK
  let missedK = 0
  let nearest: PredictedPhoto | null = null
  let nearestK = bearableK
  /** Halved each time the steps pass over the temperature: estimates can move faster than photos. */
  let stride = 1
  for (let step = 0; step < STEPS; step++) {
    const to = expected(kelvin)
    const factors = { green: to.green / from.green, blue: to.blue / from.blue }
    if (!(factors.green > 0)) return null
    const input = photo(like, factors)
    const estimate = estimateGlow(input, locus)
    yield
    if (estimate.kind !== 'temperature') {
      if (estimate.kind === 'below range') kelvin += COME_BACK_K
      else if (estimate.reason === 'above range') kelvin -= COME_BACK_K
      else return null
      continue
    }
    if (Math.abs(estimate.temperatureK - temperatureK) < closeK) return { input, estimate }
    const missK = temperatureK - estimate.temperatureK
    if (Math.abs(missK) < nearestK) {
      nearest = { input, estimate }
      nearestK = Math.abs(missK)
    }
    if (missK * missedK < 0) stride /= 2
    missedK = missK
    kelvin += stride * missK
  }
  return nearest
}

const estimatedK = (estimate: GlowEstimate): number | null =>
  estimate.kind === 'temperature' ? estimate.temperatureK : null

/** The same photo with its green and blue moved against red; blue is asked where it can be. */
function photo(
  like: ReadingLike,
  factors: { readonly green: number; readonly blue: number },
): GlowInput {
  const [red, green, blue] = like.glow.mean
  const hasBlue = blue > 0 && factors.blue > 0
  const mean: Triple = [red, green * factors.green, hasBlue ? blue * factors.blue : blue]
  const noise = (value: number) => (ORDINARY_PHOTO * value) ** 2
  const glow: LinearColour = {
    mean,
    covariance: [
      [noise(mean[0]), 0, 0],
      [0, noise(mean[1]), 0],
      [0, 0, noise(mean[2])],
    ],
  }
  // Its brightness is that of another temperature: what is predicted is a reading by colour.
  const { level: _, linearityAt, ...byColour } = like
  return {
    ...byColour,
    glow,
    linearity:
      linearityAt?.(mean) ?? atLevels(like.linearity, factors.green, hasBlue ? factors.blue : 1),
    quality: {
      clippedShare: 0,
      floorShare: [0, 0, hasBlue ? 0 : 1],
      backgroundShare: 0,
      glowWidthPixels: 100,
      chromaSubsampled: false,
    },
    window: null,
  }
}

function atLevels(linearity: Linearity, byGreen: number, byBlue: number): Linearity {
  if (linearity.kind !== 'single') return linearity
  const [red, green, blue] = linearity.storedLevels
  const at = (code: number, by: number) =>
    Math.min(1, Math.max(0, encodeTransfer(decodeTransfer(code) * by)))
  return { ...linearity, storedLevels: [red, at(green, byGreen), at(blue, byBlue)] }
}
