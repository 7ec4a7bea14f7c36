/** What a reading would be worth that is yet to be taken: the use of a kit, before it is used. */
import { decodeTransfer, encodeTransfer } from '../colour/rgb-spaces.ts'
import type { LinearColour } from '../light/image.ts'
import type { Triple } from '../numerics/matrix3.ts'
import { SECOND_RADIATION_CONSTANT } from '../physics/constants.ts'
import type { CameraLocus } from './camera-locus/types.ts'
import { CAMERA_LOCUS, estimateGlow } from './estimate-glow.ts'
import { GREEN_NM, RED_NM } from './measured-ratio.ts'
import type { GlowInput, Linearity, TemperatureEstimate } from './types.ts'

/** A photo of a glow with ordinary care: relative standard uncertainty of its mean colour. */
const ORDINARY_PHOTO = 0.004
/** Steps towards the wanted temperature; each lands within the camera's departure from Wien's law. */
const STEPS = 8
const CLOSE_K = 3

/** Wien: ln(G/R) falls by this times 1/T, K. */
const WIEN_SCALE = SECOND_RADIATION_CONSTANT * (1e9 / GREEN_NM - 1e9 / RED_NM)

/** A photo of known colour of this camera, in this white-balance state, with this card. */
export type ReadingLike = Omit<GlowInput, 'quality' | 'window'>

/**
 * The estimate that a reading at a temperature would give, were its photo taken like this one.
 *
 * The photo's colour is moved along the camera's locus until the estimate reads the temperature;
 * red stays at the level that it has, and blue is not asked.
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

/** {@link predictedReading} with a rest after each estimate, for a screen that must stay alive. */
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
 */
export function* predictingPhoto(
  like: ReadingLike,
  temperatureK: number,
  knownK: number | null = null,
  locus: CameraLocus = CAMERA_LOCUS,
  closeK = CLOSE_K,
): Generator<void, PredictedPhoto | null> {
  let logGreen = knownK === null ? 0 : WIEN_SCALE * (1 / knownK - 1 / temperatureK)
  for (let step = 0; step < STEPS; step++) {
    const input = moved(like, logGreen)
    const estimate = estimateGlow(input, locus)
    yield
    if (estimate.kind !== 'temperature') {
      // Beyond the range on this side: come back by about 150 K of a red-hot glow.
      if (estimate.kind === 'below range') logGreen += 0.5
      else if (estimate.reason === 'above range') logGreen -= 0.5
      else return null
      continue
    }
    if (Math.abs(estimate.temperatureK - temperatureK) < closeK) return { input, estimate }
    logGreen += WIEN_SCALE * (1 / estimate.temperatureK - 1 / temperatureK)
  }
  return null
}

/** The same photo with its green (and blue, twice as far) moved against red. */
function moved(like: ReadingLike, logGreen: number): GlowInput {
  const [red, green, blue] = like.glow.mean
  const factor = Math.exp(logGreen)
  const mean: Triple = [red, green * factor, blue * factor * factor]
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
  const { level: _, ...byColour } = like
  return {
    ...byColour,
    glow,
    linearity: atLevels(like.linearity, factor),
    quality: {
      clippedShare: 0,
      floorShare: [0, 0, 1],
      backgroundShare: 0,
      glowWidthPixels: 100,
      chromaSubsampled: false,
    },
    window: null,
  }
}

function atLevels(linearity: Linearity, factor: number): Linearity {
  if (linearity.kind !== 'single') return linearity
  const [red, green, blue] = linearity.storedLevels
  const at = (code: number, by: number) =>
    Math.min(1, Math.max(0, encodeTransfer(decodeTransfer(code) * by)))
  return { ...linearity, storedLevels: [red, at(green, factor), at(blue, factor * factor)] }
}
