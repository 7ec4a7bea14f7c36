/**
 * Derives the camera locus: how the channel ratios of a glow, as white-balanced and colour-managed
 * cameras deliver them, depend on temperature, on average and with what spread.
 *
 * In which space. The ratio G/R itself, not its logarithm: a colour matrix carries a share of the
 * camera's red into green, so that cameras differ by an almost constant addition to G/R from 900 to
 * 1600 K. Over 52 cameras at 1000 K the ratio has skewness -0.2 and excess kurtosis 3.1, its
 * logarithm -1.4 and 5.2. Raw channels see no matrix; there the logarithm is the more normal one
 * (0.3 and 0.9 against 0.9 and 1.6).
 */

import {
  type CameraSensitivity,
  respond,
  type TrainingSpectra,
} from '../../light/simulate/sensitivity.ts'
import {
  deliveredP3,
  glowSpectrum,
  PRESET_WHITE,
  type SimulatedBalance,
  type SimulatedCamera,
  simulateCamera,
} from '../../light/simulate/simulated-camera.ts'
import { type Triple, transform } from '../../numerics/matrix3.ts'
import { components, mean, scaled, weighted } from './components.ts'
import { infraredByDepth, type LeakCurves, leakCurves, leakLocus } from './leak-locus.ts'
import type { CameraLocus, LocusState, StateLocus } from './types.ts'

/** A little beyond the range of readings, so that intervals near its ends keep their tails. */
const HOTTEST_K = 3800
const COLDEST_K = 700
const NODES = 42
/** Components kept: five carry all but 1e-5 of the variance of G/R. */
const GREEN_COMPONENTS = 5
const BLUE_COMPONENTS = 3

/**
 * A camera of a make with n cameras counts 1/sqrt(n): halfway between counting cameras and counting
 * makes. A phone is of none of these makes, and cameras of one make are alike.
 */
const MAKE_EXPONENT = 0.5

/**
 * Variance of each green coefficient over that of the weighted sample.
 * Found by leaving out one make after the other: the mean square of the standardised coefficients
 * of the make left out is 1.2 to 1.5 for the first, 1.2 to 2 for the second and 4 for the others,
 * whose directions a sample of eight makes hardly knows; the predictive likelihood of the first is
 * largest between 1.25 and 1.5 when cameras count alike, beyond 2 when makes do. The second stands in the
 * middle of what was found: at 1.25 salt alone with a tried lock was silently wrong too often, at 2
 * intervals of cameras drawn from the priors get wider than 2.8 of their rms error (METHODS.md).
 * What a small sample adds comes on top (see {@link smallSample}).
 */
const GREEN_INFLATION = [1.45, 1.6, 3.5, 3.5, 3.5]
const BLUE_INFLATION = 1.5

/**
 * Variance of the next camera over that of a sample of n: its mean and its variance are themselves
 * only known from n (Gelman et al., Bayesian Data Analysis, 3rd ed., eq. 3.7).
 */
const smallSample = (n: number): number => (n + 1) / Math.max(n - 3, 1)

/** The locus of a set of cameras. A camera that is to be tested must not be among them. */
export function deriveCameraLocus(
  sensitivities: readonly CameraSensitivity[],
  training: TrainingSpectra,
  about: { readonly source: string; readonly licence: string },
): CameraLocus {
  return locusOfCurves(
    sensitivities.map((sensitivity) => ratioCurves(sensitivity, training)),
    about,
  )
}

/** Channel ratios of one camera at the nodes, in each state. */
export interface DerivedCurves {
  readonly make: string
  readonly states: Readonly<Record<LocusState, StateCurves>>
}

export interface StateCurves {
  readonly green: number[]
  readonly blue: number[]
  /** One for each depth of silicon tried: see {@link leakCurves}. */
  readonly leaks: readonly LeakCurves[]
}

/** The costly part of the derivation, camera by camera: for leaving out one after the other. */
export function ratioCurves(
  sensitivity: CameraSensitivity,
  training: TrainingSpectra,
): DerivedCurves {
  const states = {
    daylight: balancedCurves(simulateCamera(sensitivity, training, 'daylight'), 'daylight'),
    lamp: balancedCurves(simulateCamera(sensitivity, training, 'lamp'), 'lamp'),
    raw: rawCurves(simulateCamera(sensitivity, training, 'daylight')),
  }
  return { make: sensitivity.make, states }
}

/** Mean and loadings from the curves of many cameras. */
export function locusOfCurves(
  cameras: readonly DerivedCurves[],
  about: { readonly source: string; readonly licence: string },
): CameraLocus {
  const sizes = new Map<string, number>()
  for (const { make } of cameras) sizes.set(make, (sizes.get(make) ?? 0) + 1)
  const raw = cameras.map(({ make }) => sizes.get(make)! ** -MAKE_EXPONENT)
  const total = raw.reduce((sum, w) => sum + w, 0)
  const weights = raw.map((w) => w / total)
  const state = (id: LocusState): StateLocus =>
    stateLocus(
      cameras.map((camera) => camera.states[id]),
      weights,
      id === 'raw' ? 'log' : 'linear',
    )
  return {
    ...about,
    cameras: cameras.length,
    hottestK: HOTTEST_K,
    coldestK: COLDEST_K,
    states: { daylight: state('daylight'), lamp: state('lamp'), raw: state('raw') },
  }
}

const nodeTemperatures = Array.from(
  { length: NODES },
  (_, i) => 1 / (1 / HOTTEST_K + (i / (NODES - 1)) * (1 / COLDEST_K - 1 / HOTTEST_K)),
)

const infrared = infraredByDepth(nodeTemperatures)

/** Linear Display P3 ratios, carried to the chromaticity of the preset's light. */
function balancedCurves(camera: SimulatedCamera, balance: SimulatedBalance) {
  const white = PRESET_WHITE[balance]
  const colours = nodeTemperatures.map((temperatureK): Triple => {
    const [r, g, b] = deliveredP3(camera, glowSpectrum(temperatureK))
    return [r * white[0], g * white[1], b * white[2]]
  })
  return {
    green: colours.map(([r, g]) => g / r),
    blue: colours.map(([r, , b]) => b / r),
    leaks: leakCurves(infrared, camera.sensitivity, colours, (equal) => {
      const { card, matrix } = camera
      const raw: Triple = [equal / card[0], equal / card[1], equal / card[2]]
      const [r, g, b] = transform(matrix, raw)
      return [r * white[0], g * white[1], b * white[2]]
    }),
  }
}

/** ln of the raw ratios over those of a grey card in daylight. */
function rawCurves({ sensitivity, card }: SimulatedCamera) {
  const colours = nodeTemperatures.map((temperatureK): Triple => {
    const [r, g, b] = respond(sensitivity, glowSpectrum(temperatureK))
    return [r / card[0], g / card[1], b / card[2]]
  })
  return {
    green: colours.map(([r, g]) => Math.log(g / r)),
    blue: colours.map(([r, , b]) => Math.log(b / r)),
    leaks: leakCurves(infrared, sensitivity, colours, (equal) => [
      equal / card[0],
      equal / card[1],
      equal / card[2],
    ]),
  }
}

function stateLocus(
  curves: readonly StateCurves[],
  weights: readonly number[],
  scale: StateLocus['scale'],
): StateLocus {
  const green = components(
    curves.map((c) => c.green),
    weights,
    GREEN_COMPONENTS,
  )
  const blueMean = mean(
    curves.map((c) => c.blue),
    weights,
  )
  const blueRest = curves.map((c) => c.blue.map((value, i) => value - blueMean[i]!))
  // Blue follows green where it can: regression of each node on the orthogonal scores of green.
  const follow = green.scores.map((scores) => {
    const power = weighted(scores, scores, weights)
    return blueMean.map((_, i) => {
      const slope =
        weighted(
          scores,
          blueRest.map((rest) => rest[i]!),
          weights,
        ) / power
      for (const [c, rest] of blueRest.entries()) rest[i]! -= slope * scores[c]!
      return slope
    })
  })
  const own = components(blueRest, weights, BLUE_COMPONENTS)
  // Kish's effective sample size.
  const next = smallSample(1 / weights.reduce((sum, w) => sum + w * w, 0))
  const greenFactor = (k: number) => Math.sqrt(next * (GREEN_INFLATION[k] ?? 1))
  return {
    scale,
    leak: leakLocus(
      curves.map((c) => c.leaks),
      weights,
    ),
    green: {
      mean: green.mean,
      loadings: green.loadings.map((loading, k) => scaled(loading, greenFactor(k))),
    },
    blue: {
      mean: blueMean,
      loadings: [
        ...follow.map((loading, k) => scaled(loading, greenFactor(k))),
        ...own.loadings.map((loading) => scaled(loading, Math.sqrt(next * BLUE_INFLATION))),
      ],
    },
  }
}
