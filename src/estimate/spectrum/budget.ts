import type { FitPoints } from './fit-points.ts'
import { logLampRadiance, logPlanck } from './lamp.ts'
import { MIRED, PEDESTAL, type PlanckFit, SLOPE } from './planck-fit.ts'
import { BOW_SHARE, slopeBow } from './surface.ts'
import type {
  InstrumentResponse,
  SpectrumContribution,
  SpectrumSurface,
  SpectrumTerm,
  SpectrumWindow,
} from './types.ts'
import { tableErrors } from './windows.ts'

export interface BudgetInput {
  readonly fit: PlanckFit
  readonly points: FitPoints
  readonly response: InstrumentResponse
  readonly surface: SpectrumSurface
  readonly window: SpectrumWindow | null
  readonly pedestalSigma: number
  /** Factor on the variance of noise where broad residuals ask for it, >= 1. */
  readonly misfit: number
}

export interface SpectrumBudget {
  /** Standard uncertainty of the mired, and as temperature. */
  readonly mired: number
  readonly standardUncertaintyK: number
  /** Largest first; squares add up to the squared standard uncertainty. */
  readonly contributions: readonly SpectrumContribution[]
}

/**
 * Uncertainty of the fitted temperature. The fit is linear in small changes, so each cause goes
 * through the same gains: independent noise as a root of squares, a cause common to all samples as
 * the straight sum of what it does at each of them.
 *
 * Source: JCGM 100:2008 (GUM), 5.1 and 5.2; least-squares gains as in JCGM 102:2011, 6.
 */
export function spectrumBudget(input: BudgetInput): SpectrumBudget {
  const { fit, points, response, surface, window, pedestalSigma, misfit } = input
  const { instrument, lamp } = response
  const temperatureK = 1e6 / fit.mired
  const gains = miredGains(fit)
  let noise = 0
  for (let i = 0; i < gains.length; i++) noise += gains[i]! ** 2 * fit.noise[i]! * misfit
  /** Of a cause that changes ln(signal) by this much at every sample. */
  const common = (change: (i: number) => number) => {
    let sum = 0
    for (let i = 0; i < gains.length; i++) sum += gains[i]! * fit.glow[i]! * change(i)
    return Math.abs(sum)
  }

  const inverse = fit.inverse[MIRED]!
  const logLamp = logLampRadiance(lamp)
  // A scale that is off shifts glow and lamp alike: only the difference of their slopes counts.
  const scale = common((i) => {
    const nm = points.nm[i]!
    const glow = logPlanck(nm + 0.5, temperatureK) - logPlanck(nm - 0.5, temperatureK)
    return (glow - logLamp(nm + 0.5) + logLamp(nm - 0.5)) * instrument.wavelengthUncertaintyNm
  })
  const drift = common((i) => points.responseSlopePerNm[i]! * instrument.wavelengthDriftNm)
  const surfaceTerm = () => {
    const u = surface.standardUncertainty
    if (!(u > 0)) return 0
    const bow = common((i) => BOW_SHARE * u * slopeBow(points.nm[i]!))
    return Math.hypot(inverse[SLOPE]! / u, bow)
  }
  const windowTerm = () => {
    if (window === null) return 0
    const slope = common((i) => points.position[i]! * window.standardUncertainty)
    const table = tableErrors(window).map((error) => common((i) => error(points.nm[i]!)))
    return Math.hypot(slope, ...table)
  }
  const terms: Record<SpectrumTerm, number> = {
    noise: Math.sqrt(noise),
    'lamp temperature': common((i) => points.lamp[i]!),
    surface: surfaceTerm(),
    'stray light': Math.hypot(
      inverse[PEDESTAL]! / pedestalSigma,
      common((i) => points.lampStray[i]!),
    ),
    'wavelength scale': Math.hypot(scale, drift),
    linearity: common((i) => points.bend[i]!),
    window: windowTerm(),
  }
  const mired = Math.hypot(...Object.values(terms))
  const kelvinPerMired = temperatureK / fit.mired
  const contributions = (Object.keys(terms) as SpectrumTerm[])
    .map((term) => ({ term, standardUncertaintyK: terms[term] * kelvinPerMired }))
    .sort((a, b) => b.standardUncertaintyK - a.standardUncertaintyK)
  return { mired, standardUncertaintyK: mired * kelvinPerMired, contributions }
}

/** Change of the fitted mired per change of the signal at each point. */
function miredGains({ inverse, columns, weight }: PlanckFit): Float64Array {
  const gains = new Float64Array(weight.length)
  columns.forEach((column, j) => {
    const share = inverse[MIRED]![j]!
    for (let i = 0; i < gains.length; i++) gains[i]! += share * column[i]! * weight[i]!
  })
  return gains
}
