/**
 * How a reading's colour departs from what a hypothesis of the camera expects of it at a temperature, and
 * how likely that is.
 */
import { densityOfTwo, normalCdf, normalDensity } from '../numerics/heavy-tails.ts'
import type { Hypothesis } from './camera-posterior.ts'
import type { ReadingEquation } from './glow-equations.ts'

export interface ReadingResidual {
  /** Measured less expected green, and its standard deviation. */
  readonly green: number
  readonly greenSd: number
  /** Null where blue says nothing. */
  readonly blue: BlueResidual | null
}

export interface BlueResidual {
  /** Measured less expected blue, given green, and its standard deviation. */
  readonly value: number
  readonly sd: number
  /** The same whatever green is, and where there may be foreign light. */
  readonly alone: number
  readonly foreignSd: number
  /** From light in blue's value to as much light in green's, and the most of it. */
  readonly greenPerBlue: number
  readonly mostGreen: number
  /** The file says only that there is no more blue. */
  readonly bound: boolean
}

/**
 * Light that is none of the glow's (a lamp, a coloured reflection, haze) is in no model of the camera: so
 * often, and then so much of it in blue, in units of red (common practice). It gives green about as much as
 * blue, one way or the other, but not more than `most`: then blue says nothing of the temperature, and green
 * less.
 */
const FOREIGN = { share: 0.02, sd: 0.05, most: 0.1 }

export function residualOf(
  equation: ReadingEquation,
  { conditioned }: Hypothesis,
): ReadingResidual {
  const seen = conditioned.predict(equation.loading)
  const variance =
    conditioned.covarianceOf(equation.loading, equation.loading, seen, seen) + equation.variance
  const green = equation.residual - seen.mean
  const greenSd = Math.sqrt(variance)
  if (equation.blue === null) return { green, greenSd, blue: null }
  const { camera, residual, variance: own, kind, perLight, greenPerBlue } = equation.blue
  const blue = conditioned.predict(camera)
  const common = conditioned.covarianceOf(equation.loading, camera, seen, blue) / variance
  const spread = conditioned.covarianceOf(camera, camera, blue, blue)
  const alone = residual - blue.mean
  return {
    green,
    greenSd,
    blue: {
      value: alone - common * green,
      sd: Math.sqrt(Math.max(spread - common ** 2 * variance, 0) + own),
      alone,
      foreignSd: Math.sqrt(spread + own + (FOREIGN.sd * perLight) ** 2),
      greenPerBlue,
      mostGreen: FOREIGN.most * perLight * greenPerBlue,
      bound: kind === 'at most',
    },
  }
}

/**
 * Standard deviation of green, where foreign light has given blue so much.
 *
 * @param light in units of green's value
 */
export function widenedByForeign(greenSd: number, light: number, most: number): number {
  const given = Math.min(Math.abs(light), most)
  return Math.sqrt(greenSd * greenSd + given * given)
}

/**
 * Likelihood of green and blue together; plain numbers, because it is asked for a million times.
 *
 * @param widened {@link widenedByForeign}
 */
export function colourLikelihood(
  green: number,
  greenSd: number,
  blue: number,
  blueSd: number,
  blueAlone: number,
  foreignSd: number,
  widened: number,
): number {
  const own = densityOfTwo(green, greenSd, blue, blueSd)
  const foreign = densityOfTwo(green, widened, blueAlone, foreignSd)
  return (1 - FOREIGN.share) * own + FOREIGN.share * foreign
}

/** Likelihood of a bound of blue, given green. */
export const boundLikelihood = (blue: number, blueSd: number, foreignSd: number): number =>
  (1 - FOREIGN.share) * normalCdf(blue / blueSd) + FOREIGN.share * normalCdf(blue / foreignSd)

/** Likelihood of blue, where green is as it is. */
export function blueLikelihood({ value, sd, alone, foreignSd, bound }: BlueResidual): number {
  if (bound) return boundLikelihood(value, sd, foreignSd)
  return (
    (1 - FOREIGN.share) * normalDensity(value, sd) + FOREIGN.share * normalDensity(alone, foreignSd)
  )
}

/** Likelihood of blue and of a green above (`side` 1) or below what was measured. */
export function tailLikelihood({ green, greenSd, blue }: ReadingResidual, side: 1 | -1): number {
  const tail = (sd: number) => normalCdf((side * green) / sd)
  if (blue === null) return tail(greenSd)
  const { value, sd, alone, foreignSd, greenPerBlue, mostGreen, bound } = blue
  if (bound) return boundLikelihood(value, sd, foreignSd) * tail(greenSd)
  const widened = widenedByForeign(greenSd, alone * greenPerBlue, mostGreen)
  return (
    (1 - FOREIGN.share) * normalDensity(value, sd) * tail(greenSd) +
    FOREIGN.share * normalDensity(alone, foreignSd) * tail(widened)
  )
}
