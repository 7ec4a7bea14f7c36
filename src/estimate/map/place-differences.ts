/**
 * How much hotter places of one photo are than the place of its reading: each hypothesis of the
 * camera is adjusted until it gives the reading its temperature, and then gives those of the
 * others. What is not known of the camera moves all of them, so that mostly the steepness of its
 * locus is left.
 */
import { mixtureQuantiles } from '../../numerics/mixture.ts'
import { NORMAL_95 } from '../budget.ts'
import type { CameraPosterior, Hypothesis } from '../camera-posterior.ts'
import { type ReadingEquation, readingEquation } from '../glow-equations.ts'
import type { GlowProblem } from '../glow-problem.ts'
import { type MeasuredRatio, trueTemperatureOf } from '../measured-ratio.ts'
import { blueLikelihood, residualOf } from '../reading-residual.ts'
import { seldomBelow } from '../temperature-distribution.ts'

export interface PlaceDifference {
  /** Median of (place less reading), K. */
  readonly middle: number
  /** Half of the 95 % interval over 1.96, K. */
  readonly sd: number
}

/** Departures of the reading from what a hypothesis expects: Gauss-Hermite nodes for a normal. */
const DEPARTURES = [
  [-Math.sqrt(3), 1 / 6],
  [0, 2 / 3],
  [Math.sqrt(3), 1 / 6],
] as const
/** Where unknown tone curves make many hypotheses, those part the places far more than a departure does. */
const FEW_HYPOTHESES = 60
const NO_DEPARTURE = [[0, 1]] as const
/** Secant steps, and where they are close enough, in standard deviations or in ln. */
const STEPS = 8
const CLOSE = 1e-5

/**
 * @param posterior of a problem whose `others` are the places, all of one photo, without noise
 * @param startK colour temperature of the reading, about
 */
export function placeDifferences(posterior: CameraPosterior, startK: number): PlaceDifference[] {
  const { problem } = posterior
  const parts: { weight: number; mean: number; sd: number }[][] = problem.others.map(() => [])
  const departures = posterior.hypotheses.length > FEW_HYPOTHESES ? NO_DEPARTURE : DEPARTURES
  for (const hypothesis of posterior.hypotheses) {
    for (const [departure, share] of departures) {
      const here = readingAt(problem, hypothesis, departure, startK)
      if (here === null) continue
      const weight = hypothesis.weight * share * here.likelihood
      if (!(weight > 0)) continue
      const found = problem.others.map((place) => placeAt(problem, hypothesis, here, place))
      // A camera that cannot see one of the places did not take this photo.
      if (found.some((one) => one === null)) continue
      for (const [i, one] of found.entries()) parts[i]!.push({ weight, ...one! })
    }
  }
  return parts.map((list) => {
    const total = list.reduce((sum, { weight }) => sum + weight, 0)
    const mixture = list.map((part) => ({ ...part, weight: part.weight / total }))
    const [low, middle, high] = mixtureQuantiles(mixture, [0.025, 0.5, 0.975]) as [
      number,
      number,
      number,
    ]
    return { middle, sd: (high - low) / (2 * NORMAL_95) }
  })
}

interface Here {
  readonly colourK: number
  readonly trueK: number
  readonly equation: ReadingEquation
  /** Measured less expected, and its variance. */
  readonly residual: number
  readonly variance: number
  readonly likelihood: number
}

/** Where the reading departs from the hypothesis by so many standard deviations. */
function readingAt(
  problem: GlowProblem,
  hypothesis: Hypothesis,
  departure: number,
  startK: number,
): Here | null {
  const { curve, camera } = hypothesis
  const look = (kelvin: number) => {
    const equation = readingEquation(problem, kelvin, curve, camera)
    return { equation, ...residualOf(equation, hypothesis) }
  }
  const colourK = root(problem, startK, (kelvin) => {
    const { green, greenSd } = look(kelvin)
    return green / greenSd - departure
  })
  if (colourK === null) return null
  const { equation, green, greenSd, blue } = look(colourK)
  const step = 1e-3 * colourK
  const steepness = -(look(colourK + step).green - green) / step
  if (!(steepness > 0)) return null
  // An even prior in what the faultless camera sees, as in temperature-distribution.
  const evenness = (problem.model.green(colourK).slope / steepness) * seldomBelow(colourK)
  const likelihood = evenness * (blue ? blueLikelihood(blue) : 1)
  return {
    colourK,
    trueK: trueTemperatureOf(colourK, problem.reading),
    equation,
    residual: green,
    variance: greenSd ** 2,
    likelihood,
  }
}

function placeAt(
  problem: GlowProblem,
  { curve, camera, conditioned }: Hypothesis,
  here: Here,
  place: MeasuredRatio,
): { readonly mean: number; readonly sd: number } | null {
  const { loading } = here.equation
  const seenHere = conditioned.predict(loading)
  const look = (kelvin: number) => {
    const equation = readingEquation(problem, kelvin, curve, camera, place)
    const seen = conditioned.predict(equation.loading)
    const common = conditioned.covarianceOf(equation.loading, loading, seen, seenHere)
    const gain = common / here.variance
    const residual = equation.residual - seen.mean - gain * here.residual
    const spread = () =>
      conditioned.covarianceOf(equation.loading, equation.loading, seen, seen) - gain * common
    return { residual, spread }
  }
  const kelvin = root(problem, here.colourK, (at) => look(at).residual)
  if (kelvin === null) return null
  const { residual, spread } = look(kelvin)
  const step = 1e-3 * kelvin
  const steepness = -(look(kelvin + step).residual - residual) / step
  if (!(steepness > 0)) return null
  const trueK = trueTemperatureOf(kelvin, place)
  // d true / d colour temperature = (T / Tc)² in Wien's approximation.
  const sd = (Math.sqrt(Math.max(spread(), 0)) / steepness) * (trueK / kelvin) ** 2
  return { mean: trueK - here.trueK, sd: Math.max(sd, 1e-3) }
}

/** Zero of a function that falls with temperature, by secants; null where there is none in range. */
function root(
  { model: { coldestK, hottestK } }: GlowProblem,
  startK: number,
  f: (kelvin: number) => number,
): number | null {
  const within = (kelvin: number) => Math.min(Math.max(kelvin, coldestK), hottestK)
  let [a, fa] = [startK, f(startK)]
  let b = within(startK * (fa > 0 ? 1.02 : 0.98))
  let fb = f(b)
  for (let step = 0; step < STEPS; step++) {
    if (Math.abs(fb) < CLOSE) return b
    const slope = (fb - fa) / (b - a)
    if (!(slope < 0)) return null
    const next = within(b - fb / slope)
    if (next === b) return null
    ;[a, fa] = [b, fb]
    ;[b, fb] = [next, f(next)]
  }
  return Math.abs(fb) < 1e3 * CLOSE ? b : null
}
