import type { FitCause } from './causes.ts'
import { CAUSES, MIRED, PEDESTAL, type PlanckFit, SLOPE, TILT } from './planck-fit.ts'
import type { SpectrumContribution, SpectrumTerm } from './types.ts'

export interface SpectrumBudget {
  /** Standard uncertainty of the mired, and as temperature. */
  readonly mired: number
  readonly standardUncertaintyK: number
  /** Largest first; squares add up to the squared standard uncertainty. */
  readonly contributions: readonly SpectrumContribution[]
}

/**
 * Where the uncertainty of the fitted temperature comes from. Noise goes through the gains of the fit
 * as a root of squares; a parameter with a prior leaves open what its prior lets it move, through the
 * covariance. The squares add up to the variance of the mired in the covariance.
 *
 * Source: JCGM 100:2008 (GUM), 5.1 and 5.2; least-squares gains as in JCGM 102:2011, 6. With N the
 *   normal matrix, J'WJ its part by data and P by priors: N^-1 = N^-1 (J'WJ) N^-1 + N^-1 P N^-1.
 */
export function spectrumBudget(fit: PlanckFit, causes: readonly FitCause[]): SpectrumBudget {
  const { covariance, columns, priors, weight, residualNoise } = fit
  const row = covariance[MIRED]!
  let noise = 0
  let fine = 0
  for (let b = 0; b < weight.length; b++) {
    const w = weight[b]!
    if (w === 0) continue
    let gain = 0
    for (let j = 0; j < row.length; j++) gain += row[j]! * columns[j]![b]!
    gain *= w
    noise += gain * gain * residualNoise[b]!
    fine += gain * gain * (1 / w - residualNoise[b]!)
  }
  const variances: Record<SpectrumTerm, number> = {
    noise,
    'shape of response and surface': Math.max(0, fine),
    'lamp temperature': 0,
    'reference surface': 0,
    surface: 0,
    'stray light': 0,
    'wavelength scale': 0,
    linearity: 0,
    window: 0,
    'another instrument': 0,
    references: 0,
  }
  const afterCauses = CAUSES + causes.length
  priors.forEach(({ standardUncertainty }, j) => {
    if (!Number.isFinite(standardUncertainty)) return
    const term: SpectrumTerm =
      j === PEDESTAL || j === TILT
        ? 'stray light'
        : j === SLOPE
          ? 'surface'
          : j < afterCauses
            ? causes[j - CAUSES]!.term
            : 'shape of response and surface'
    variances[term] += (row[j]! / standardUncertainty) ** 2
  })
  const terms = Object.keys(variances) as SpectrumTerm[]
  const mired = Math.sqrt(terms.reduce((sum, term) => sum + variances[term], 0))
  const kelvinPerMired = 1e6 / fit.mired ** 2
  return {
    mired,
    standardUncertaintyK: mired * kelvinPerMired,
    contributions: terms
      .map((term) => ({ term, standardUncertaintyK: Math.sqrt(variances[term]) * kelvinPerMired }))
      .filter((one) => one.standardUncertaintyK > 0)
      .sort((a, b) => b.standardUncertaintyK - a.standardUncertaintyK),
  }
}

/**
 * Standard uncertainty that is left where the largest contribution is gone, K: the most that mending it
 * can bring. 0 for one contribution or none.
 *
 * @param contributions largest first
 * @example withoutLargest([{ term: 'surface', standardUncertaintyK: 12 }, { term: 'noise', standardUncertaintyK: 5 }]) // 5
 */
export function withoutLargest(contributions: readonly SpectrumContribution[]): number {
  const [, ...rest] = contributions
  return Math.hypot(...rest.map(({ standardUncertaintyK }) => standardUncertaintyK))
}
