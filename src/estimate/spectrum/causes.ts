import { type Bins, binMeans } from './bins.ts'
import type { FitPoints } from './fit-points.ts'
import { logLampRadiance, logPlanck } from './lamp.ts'
import { tiltOver, unevenness } from './pedestal.ts'
import { BOW_SHARE, slopeBow, slopePosition } from './surface.ts'
import type { InstrumentResponse, SpectrumSurface, SpectrumTerm, SpectrumWindow } from './types.ts'
import { tableErrors } from './windows.ts'

/**
 * One thing that may be off, the same at every wavelength at once: the change of ln(signal) in each
 * bin that one standard uncertainty of it makes.
 */
export interface FitCause {
  readonly term: SpectrumTerm
  readonly change: Float64Array
}

/**
 * By how much the responses of two instruments may differ in ln(green / red), one standard
 * uncertainty. Silicon arrays behind different gratings, filters and fibres differ by half their
 * signal over 250 nm (common practice).
 */
const OTHER_INSTRUMENT_SLOPE = 0.3

/**
 * Everything that is uncertain besides noise, pedestal, slope and shape, as columns for the fit.
 *
 * @param temperatureK of the glow, roughly: a scale that is off acts by the slope of its spectrum
 * @param otherInstrument reference and glow do not look recorded by one instrument
 * @param hiddenSlope standard uncertainty of a slope that nobody stated, per 100 nm
 */
export function causesOf(
  points: FitPoints,
  bins: Bins,
  response: InstrumentResponse,
  surface: SpectrumSurface,
  window: SpectrumWindow | null,
  temperatureK: number,
  otherInstrument: boolean,
  hiddenSlope: number,
): FitCause[] {
  const { instrument, lamp } = response
  const causes: FitCause[] = []
  const add = (term: SpectrumTerm, change: Float64Array) => {
    if (change.some((value) => value !== 0)) causes.push({ term, change })
  }
  const byNm = (change: (nm: number) => number) => bins.nm.map(change)
  const means = (column: ArrayLike<number>) => binMeans(bins.start, column)

  add('lamp temperature', means(points.lamp))
  const lampStray = means(points.lampStray)
  const tilt = tiltOver(bins.nm)
  const { pedestal } = response
  const uneven = unevenness(pedestal) / pedestal.standardUncertainty
  add('stray light', lampStray)
  add(
    'stray light',
    lampStray.map((value, b) => value * tilt[b]! * uneven),
  )
  add('linearity', means(points.bend))
  const logLamp = logLampRadiance(lamp)
  // A scale that is off shifts glow and lamp alike: only the difference of their slopes counts.
  add(
    'wavelength scale',
    byNm((nm) => {
      const glow = logPlanck(nm + 0.5, temperatureK) - logPlanck(nm - 0.5, temperatureK)
      const reference = logLamp(nm + 0.5) - logLamp(nm - 0.5)
      return (glow - reference) * instrument.wavelengthUncertaintyNm
    }),
  )
  add(
    'wavelength scale',
    means(points.responseSlopePerNm).map((slope) => slope * instrument.wavelengthDriftNm),
  )
  const bowed = (u: number) => byNm((nm) => BOW_SHARE * u * slopeBow(nm))
  add('surface', bowed(surface.standardUncertainty))
  if (lamp.emitter === 'surface') {
    const u = lamp.surface.standardUncertainty
    add(
      'reference surface',
      byNm((nm) => u * slopePosition(nm)),
    )
    add('reference surface', bowed(u))
  }
  if (window !== null) {
    add(
      'window',
      byNm((nm) => slopePosition(nm) * window.standardUncertainty),
    )
    for (const error of tableErrors(window)) add('window', byNm(error))
  }
  add(
    'shape of response and surface',
    byNm((nm) => hiddenSlope * slopePosition(nm)),
  )
  add('shape of response and surface', bowed(hiddenSlope))
  if (otherInstrument) {
    add(
      'another instrument',
      byNm((nm) => OTHER_INSTRUMENT_SLOPE * slopePosition(nm)),
    )
    add(
      'another instrument',
      byNm((nm) => OTHER_INSTRUMENT_SLOPE * slopeBow(nm)),
    )
  }
  return causes
}
