import { invertPositive } from '../../numerics/linear-algebra.ts'
import type { Bins } from './bins.ts'
import { spectrumBudget } from './budget.ts'
import type { FittedSpectrum } from './fit-spectrum.ts'
import { normalMatrix } from './normal-matrix.ts'
import { MIRED, type PlanckFit } from './planck-fit.ts'
import type { SpectrumTerm, WavelengthRange } from './types.ts'

export interface Half extends WavelengthRange {
  readonly temperatureK: number
  readonly standardUncertaintyK: number
}

/** Two estimates from one spectrum that share no sample. */
export interface Halves {
  readonly short: Half
  readonly long: Half
  /** Difference in its standard uncertainties, by what the halves do not share. */
  readonly apart: number
}

/** Causes that move both halves alike. */
const SHARED: readonly SpectrumTerm[] = ['lamp temperature']
/** A half with fewer bins has no shape. */
const MIN_BINS = 4
/** A half that leaves its mired open by more than this share of it says nothing. */
const MOST_OPEN = 0.25

/**
 * The spectrum cut in two where both halves bear equally on the temperature, at the middle in
 * 1/wavelength, and each fitted alone, with the priors and sizes of the whole: one step of the whole
 * fit from where it stands, which is all there is to do near its end.
 *
 * @returns null where a half is too short or too weak to have a temperature
 */
export function halvesOf({ fit, bins, causes }: FittedSpectrum): Halves | null {
  const { nm } = bins
  const middle = 2 / (1 / nm[0]! + 1 / nm[nm.length - 1]!)
  const half = (isIn: (at: number) => boolean) => {
    const part = onlyBins(fit, bins, isIn)
    if (part === null) return null
    const budget = spectrumBudget(part.fit, causes)
    const perMired = 1e6 / part.fit.mired ** 2
    const own = budget.contributions
      .filter(({ term }) => !SHARED.includes(term))
      .map((one) => one.standardUncertaintyK / perMired)
    return {
      mired: part.fit.mired,
      own: Math.hypot(...own),
      figure: {
        ...part.range,
        temperatureK: 1e6 / part.fit.mired,
        standardUncertaintyK: budget.standardUncertaintyK,
      },
    }
  }
  const short = half((at) => at < middle)
  const long = half((at) => at >= middle)
  if (short === null || long === null) return null
  if (Math.max(short.own, long.own) > MOST_OPEN * fit.mired) return null
  return {
    short: short.figure,
    long: long.figure,
    apart: Math.abs(short.mired - long.mired) / Math.hypot(short.own, long.own),
  }
}

function onlyBins(
  fit: PlanckFit,
  { nm }: Bins,
  isIn: (at: number) => boolean,
): { fit: PlanckFit; range: WavelengthRange } | null {
  const inside = nm.filter((at, b) => isIn(at) && fit.weight[b]! > 0)
  if (inside.length < MIN_BINS) return null
  const weight = fit.weight.map((value, b) => (isIn(nm[b]!) ? value : 0))
  const normal = normalMatrix(fit.columns, weight)
  fit.priors.forEach(({ standardUncertainty }, j) => {
    normal[j]![j]! += standardUncertainty ** -2
  })
  const covariance = invertPositive(normal)
  if (covariance === null) return null
  let move = 0
  fit.columns.forEach((column, j) => {
    let gradient =
      (fit.priors[j]!.mean - fit.parameters[j]!) * fit.priors[j]!.standardUncertainty ** -2
    for (let b = 0; b < weight.length; b++) gradient += weight[b]! * column[b]! * fit.residual[b]!
    move += covariance[MIRED]![j]! * gradient
  })
  const mired = fit.mired + move
  if (!(mired > 0)) return null
  const range = { fromNm: inside[0]!, toNm: inside[inside.length - 1]! }
  return { fit: { ...fit, mired, weight, covariance }, range }
}
