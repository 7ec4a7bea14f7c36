/**
 * Can this camera see such a colour in a glowing body? G/R fixes the temperature; blue is left to
 * ask. Light that is not of the glow (infrared that leaks in, haze, flare, a lamp, a tint, a wrong
 * white balance) puts blue where the locus has none.
 */
import type { CameraModel } from './camera-model.ts'
import { condition, dot, type Observation, quadratic } from './conditioning.ts'
import type { GlowProblem } from './glow-problem.ts'
import { curveMoments } from './tone-curve-prior.ts'
import type { GlowInput, Linearity, OffLocusTest } from './types.ts'

/** Below this chance for an honest glow the colour is called off the locus. */
export const OFF_LOCUS_PROBABILITY = 0.01
/** A blue channel with more pixels than this at the floor is a bound, not a value. */
const LARGEST_FLOOR_SHARE = 0.05

/** Blue counts as a value only where the file holds one: sRGB cuts it off below about 1900 K. */
function hasBlue(linearity: Linearity, blue: number): boolean {
  if (!(blue > 0)) return false
  return linearity.kind !== 'single' || linearity.storedLevels[2] > 1.5 / 255
}

/** What was measured too much of blue, in units of red, and how likely that is. */
export interface OffLocus extends OffLocusTest {
  /** Measured less expected B/R. */
  readonly excess: number
}

/** @param colourTemperatureK as estimated from G/R, with its standard uncertainty */
export function offLocus(
  input: GlowInput,
  problem: GlowProblem,
  colourTemperatureK: number,
  standardUncertaintyK: number,
): OffLocus {
  const { model, colour } = problem
  const { blue, blueVariance } = colour
  const untestable: OffLocus = {
    chiSquared: 0,
    probability: 1,
    verdict: 'not testable',
    excess: 0,
  }
  if (input.quality.floorShare[2] > LARGEST_FLOOR_SHARE || !hasBlue(input.linearity, blue))
    return untestable
  const point = model.blue(colourTemperatureK)
  const log = model.scale === 'log'
  const curve = curveMoments(input.linearity, 'blue')
  const measured = log ? Math.log(blue) + curve.mean : blue * Math.exp(curve.mean)
  const scale = log ? 1 / blue ** 2 : 1
  const noise =
    (blueVariance.pixel + blueVariance.balance) * scale +
    curve.variance * (log ? 1 : measured ** 2) +
    (point.slope * standardUncertaintyK) ** 2
  const known = condition(
    point.loadings.map(() => 1),
    blueObservations(problem, model),
  )
  const excess = measured - point.mean - dot(point.loadings, known.mean)
  const variance = quadratic(point.loadings, known.covariance) + noise
  const chiSquared = excess ** 2 / variance
  const probability = twoSidedT3(Math.sqrt(chiSquared))
  const verdict =
    probability >= OFF_LOCUS_PROBABILITY ? 'on the locus' : excess > 0 ? 'too blue' : 'too yellow'
  return { chiSquared, probability, verdict, excess: log ? blue * -Math.expm1(-excess) : excess }
}

/** Green and blue of all references as observations of green's and blue's coefficients. */
function blueObservations(problem: GlowProblem, model: CameraModel): Observation[] {
  const own = Array.from({ length: model.blueOwn }, () => 0)
  return problem.references.flatMap(({ reference, colour, colourTemperatureK, inflation }) => {
    const green = model.green(colourTemperatureK)
    const blue = model.blue(colourTemperatureK)
    const { mean, variance } = curveMoments(reference.linearity, 'blue')
    const log = model.scale === 'log'
    const list: Observation[] = []
    const add = (
      ratio: number,
      spread: { pixel: number; balance: number },
      point: typeof blue,
      loading: readonly number[],
    ) => {
      if (!(ratio > 0)) return
      const value = log ? Math.log(ratio) : ratio
      const byTemperature = point.slope * reference.standardUncertaintyK
      list.push({
        residual: value - point.mean,
        loading,
        variance:
          inflation *
          ((spread.pixel + spread.balance) / (log ? ratio ** 2 : 1) + byTemperature ** 2 + 1e-10),
      })
    }
    add(colour.green, colour.greenVariance, green, [...green.loadings, ...own])
    if (hasBlue(reference.linearity, colour.blue)) {
      const factor = Math.exp(mean)
      const spread = {
        pixel: colour.blueVariance.pixel + variance * colour.blue ** 2,
        balance: colour.blueVariance.balance,
      }
      add(colour.blue * factor, spread, blue, blue.loadings)
    }
    return list
  })
}

/** Chance beyond +-z for Student's t with 3 degrees of freedom, scaled to variance 1. */
export function twoSidedT3(z: number): number {
  // t = sqrt(3) z; F(t) = 1/2 + (atan(z) + z / (1 + z^2)) / pi, with t / sqrt(3) = z.
  return 1 - (2 / Math.PI) * (Math.atan(z) + z / (1 + z * z))
}
