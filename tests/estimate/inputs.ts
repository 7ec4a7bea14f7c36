/** Inputs of an ordinary reading, to be varied by tests. */

import { CAMERA_LOCUS } from '../../src/estimate/camera-locus/camera-locus.ts'
import { cameraModel } from '../../src/estimate/camera-model.ts'
import { estimateGlow } from '../../src/estimate/estimate-glow.ts'
import type {
  BalanceState,
  GlowInput,
  GreyBalance,
  KnownHeatReference,
  SurfaceSlope,
  TemperatureEstimate,
} from '../../src/estimate/types.ts'
import type { LinearColour } from '../../src/light/image.ts'
import type { Matrix3 } from '../../src/numerics/matrix3.ts'

/** A lock that was seen to hold. */
export const DAYLIGHT: BalanceState = {
  kind: 'daylight',
  colourTemperatureK: null,
  lock: 'verified',
}

export const CARD: GreyBalance = {
  id: 'card',
  logGains: [0, 0, 0],
  covariance: [
    [0, 0, 0],
    [0, 1e-5, 0],
    [0, 0, 1e-5],
  ],
  light: { kind: 'daylight', colourTemperatureK: 6504, standardUncertaintyK: 0 },
}

/** One and the same piece, whatever is photographed. */
export const STEEL: SurfaceSlope = {
  id: 'steel',
  lnGreenOverRed: 0,
  standardUncertainty: 0.03,
  piece: 'bar',
}

/** Linear P3 with independent relative noise. */
export function colour(
  greenOverRed: number,
  blueOverRed: number,
  relative = 0.002,
  red = 0.5,
): LinearColour {
  const mean = [red, red * greenOverRed, red * blueOverRed] as const
  const covariance: Matrix3 = [
    [(relative * mean[0]) ** 2, 0, 0],
    [0, (relative * mean[1]) ** 2, 0],
    [0, 0, (relative * mean[2]) ** 2],
  ]
  return { mean, covariance }
}

const model = cameraModel(CAMERA_LOCUS, 'display-p3', DAYLIGHT)

/**
 * What a camera sees of a grey body.
 *
 * @param offset number of standard deviations by which its green lies above that of the mean camera
 */
export function seen(temperatureK: number, offset = 0): LinearColour {
  const green = model.green(temperatureK)
  const blue = model.blue(temperatureK)
  return colour(green.mean + offset * green.loadings[0]!, blue.mean + offset * blue.loadings[0]!)
}

export function reading(glow: LinearColour, change: Partial<GlowInput> = {}): GlowInput {
  return {
    glow,
    channels: 'display-p3',
    cameraToXyz: null,
    faithfulColours: true,
    balance: CARD,
    balanceState: DAYLIGHT,
    linearity: { kind: 'linear' },
    quality: {
      clippedShare: 0,
      floorShare: [0, 0, 0],
      backgroundShare: 0,
      glowWidthPixels: 100,
      chromaSubsampled: false,
    },
    surface: STEEL,
    window: null,
    cameraId: 'phone',
    takenAt: '2001-06-01T12:00:00Z',
    references: [],
    ...change,
  }
}

export function reference(
  temperatureK: number,
  standardUncertaintyK: number,
  glow: LinearColour,
  change: Partial<KnownHeatReference> = {},
): KnownHeatReference {
  return {
    id: `at ${temperatureK}`,
    name: `${temperatureK} K`,
    cameraId: 'phone',
    takenAt: '2001-05-01T12:00:00Z',
    temperatureK,
    standardUncertaintyK,
    glow,
    channels: 'display-p3',
    balance: CARD,
    balanceState: DAYLIGHT,
    linearity: { kind: 'linear' },
    surface: STEEL,
    group: null,
    ...change,
  }
}

/** The estimate, which must be a temperature. */
export function temperature(input: GlowInput): TemperatureEstimate {
  const estimate = estimateGlow(input)
  if (estimate.kind !== 'temperature')
    throw new Error(`expected a temperature, got ${JSON.stringify(estimate)}`)
  return estimate
}

/** Salt at its melting point, read to 6 K. */
export const salt = (offset = 0, change: Partial<KnownHeatReference> = {}) =>
  reference(1073.6, 6, seen(1073.6, offset), change)
