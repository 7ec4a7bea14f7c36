import { plain, tabulate } from './arrays.ts'
import type { CorrectedSpectrum, FittedRadiance } from './corrected.ts'
import type { FitPoints } from './fit-points.ts'
import { logPlanck } from './lamp.ts'
import { tiltOver } from './pedestal.ts'
import { MIRED, PEDESTAL, type PlanckFit, TILT } from './planck-fit.ts'
import { logSurfaceShape, slopePosition } from './surface.ts'
import type { SpectrumSurface } from './types.ts'

/**
 * The spectrum with response and zero taken out, beside the fit; the fit at any wavelength, and one
 * standard uncertainty of its temperature hotter; and what the zero may still add at each sample.
 */
export function takeInstrumentOut(
  points: FitPoints,
  fit: PlanckFit,
  surface: SpectrumSurface,
): {
  corrected: CorrectedSpectrum
  fittedRadiance: FittedRadiance
  hotter: FittedRadiance
  zeroErrors: readonly Float64Array[]
} {
  const kelvin = 1e6 / fit.mired
  const shape = logSurfaceShape(surface)
  const logRadiance = (nm: number) =>
    logPlanck(nm, kelvin) + shape(nm, kelvin) + fit.slope * slopePosition(nm)
  const oneK = (Math.sqrt(fit.covariance[MIRED]![MIRED]!) * kelvin) / fit.mired
  const count = points.nm.length
  const logs = tabulate(count, (i) => logRadiance(points.nm[i]!))
  const top = logs.reduce((most, value) => Math.max(most, value), Number.NEGATIVE_INFINITY)
  const model = tabulate(count, (i) => Math.exp(logs[i]! - top))
  // Without the departures: they are what the corrected spectrum shows beside the fit.
  const perSignal = tabulate(count, (i) => (model[i]! / fit.glow[i]!) * Math.exp(fit.departure[i]!))
  const tilt = tiltOver(points.nm)
  const open = (j: number) => Math.sqrt(fit.covariance[j]![j]!)
  const column = (value: (i: number) => number) => plain(tabulate(count, value))
  return {
    corrected: {
      wavelengthNm: plain(points.nm),
      radiance: column((i) => (points.signal[i]! - fit.zero[i]!) * perSignal[i]!),
      sigma: column((i) => Math.sqrt(fit.noise[i]!) * perSignal[i]!),
      fit: plain(model),
    },
    fittedRadiance: (nm) => Math.exp(logRadiance(nm) - top),
    zeroErrors: [
      perSignal.map((value) => open(PEDESTAL) * value),
      perSignal.map((value, i) => open(TILT) * tilt[i]! * value),
    ],
    hotter: (nm) =>
      Math.exp(logRadiance(nm) + logPlanck(nm, kelvin + oneK) - logPlanck(nm, kelvin) - top),
  }
}
