import type { ModelFit, SpectrumTemperature } from './temperature.ts'
import type {
  SpectrumContribution,
  SpectrumFinding,
  SpectrumRefusal,
  SpectrumTerm,
} from './types.ts'

/** Terms that each reference has for itself; the others come from the glow and err together. */
const OWN: readonly SpectrumTerm[] = [
  'lamp temperature',
  'reference surface',
  'shape of response and surface',
  'stray light',
  'linearity',
  'another instrument',
]
const COVERAGE_FACTOR = 2
/** A spread that chance makes once in 20 is named. */
const NAMED_Z = 1.96

interface Reading {
  readonly mired: number
  /** Variances of the mired by term. */
  readonly variance: ReadonlyMap<SpectrumTerm, number>
}

/**
 * One temperature from several, each by a reference of its own: a weighted mean of the mireds, with a
 * variance between references where they differ by more than their own uncertainties explain.
 *
 * @param results at least one, none refused
 * Source: DerSimonian & Laird 1986 (Control. Clin. Trials 7, 177), as used for key comparisons
 *   (Toman & Possolo 2009, Accred. Qual. Assur. 14, 553).
 */
export function combineReferences(results: readonly SpectrumTemperature[]): SpectrumTemperature {
  const best = results.reduce((a, b) => (b.standardUncertaintyK < a.standardUncertaintyK ? b : a))
  if (results.length === 1) return best
  const { fit, betweenK, heterogeneous } = weightedMean(results)
  const known = weightedMean(results.map((one) => one.withKnownSlope)).fit
  const disagree: SpectrumFinding[] = heterogeneous
    ? [{ code: 'references disagree', spreadK: betweenK }]
    : []
  return {
    ...best,
    ...fit,
    withKnownSlope: known,
    betweenReferencesK: betweenK,
    findings: [...best.findings, ...disagree],
  }
}

function weightedMean(fits: readonly ModelFit[]) {
  const readings = fits.map(readingOf)
  const own = readings.map(({ variance }) => sumOf(variance, (term) => OWN.includes(term)))
  const first = own.map((value) => 1 / Math.max(value, 1e-12))
  const total = first.reduce((sum, w) => sum + w, 0)
  const mean = readings.reduce((sum, { mired }, i) => sum + first[i]! * mired, 0) / total
  const chiSquared = readings.reduce(
    (sum, { mired }, i) => sum + first[i]! * (mired - mean) ** 2,
    0,
  )
  const degrees = readings.length - 1
  const spare = total - first.reduce((sum, w) => sum + w * w, 0) / total
  const between = Math.max(0, (chiSquared - degrees) / spare)
  const weights = own.map((value) => 1 / Math.max(value + between, 1e-12))
  const all = weights.reduce((sum, w) => sum + w, 0)
  const share = weights.map((w) => w / all)
  const mired = readings.reduce((sum, one, i) => sum + share[i]! * one.mired, 0)

  const terms = new Set(readings.flatMap(({ variance }) => [...variance.keys()]))
  const variances = new Map<SpectrumTerm, number>()
  for (const term of terms) {
    const each = readings.map(({ variance }) => variance.get(term) ?? 0)
    variances.set(
      term,
      OWN.includes(term)
        ? each.reduce((sum, value, i) => sum + share[i]! ** 2 * value, 0)
        : each.reduce((sum, value, i) => sum + share[i]! * Math.sqrt(value), 0) ** 2,
    )
  }
  if (between > 0) {
    variances.set(
      'references',
      share.reduce((sum, part) => sum + part * part * between, 0),
    )
  }
  const perMired = 1e6 / mired ** 2
  const sigma = Math.sqrt(sumOf(variances, () => true))
  const budget: SpectrumContribution[] = [...variances]
    .map(([term, value]) => ({ term, standardUncertaintyK: Math.sqrt(value) * perMired }))
    .sort((a, b) => b.standardUncertaintyK - a.standardUncertaintyK)
  const half = COVERAGE_FACTOR * sigma
  const fit: ModelFit = {
    temperatureK: 1e6 / mired,
    standardUncertaintyK: sigma * perMired,
    interval95K: [1e6 / (mired + half), 1e6 / Math.max(mired - half, mired * 1e-3)],
    budget,
    lnGreenOverRed: fits.reduce((sum, one, i) => sum + share[i]! * one.lnGreenOverRed, 0),
  }
  return {
    fit,
    betweenK: Math.sqrt(between) * perMired,
    heterogeneous: chiSquared > degrees + NAMED_Z * Math.sqrt(2 * degrees),
  }
}

function readingOf({ temperatureK, budget }: ModelFit): Reading {
  const mired = 1e6 / temperatureK
  const perKelvin = mired / temperatureK
  return {
    mired,
    variance: new Map(
      budget.map(({ term, standardUncertaintyK }) => [
        term,
        (standardUncertaintyK * perKelvin) ** 2,
      ]),
    ),
  }
}

function sumOf(
  variances: ReadonlyMap<SpectrumTerm, number>,
  counts: (term: SpectrumTerm) => boolean,
): number {
  let sum = 0
  for (const [term, value] of variances) if (counts(term)) sum += value
  return sum
}

/** Of results by several references: the refusal that counts, where there is one. */
export function commonRefusal(
  results: readonly (SpectrumTemperature | SpectrumRefusal)[],
): SpectrumRefusal | null {
  const refused = results.filter((one) => !one.ok)
  const judged = refused.find((one) => !isLeftOut(one))
  return judged ?? (refused.length === results.length ? (refused[0] ?? null) : null)
}

/**
 * A reference that shares no wavelengths with the glow, or is another instrument's, cannot judge
 * it.
 */
export const isLeftOut = (one: SpectrumTemperature | SpectrumRefusal): boolean =>
  !one.ok &&
  (one.code === 'no common wavelengths' ||
    one.findings?.some(({ code }) => code === 'another instrument') === true)
