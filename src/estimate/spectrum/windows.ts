import { windowById } from '../../physics/windows.ts'
import { interpolate } from './interpolate.ts'
import type { SpectrumWindow } from './types.ts'

/** Range over which a stated slope of a window is drawn, nm. */
const GREEN_NM = 550
const RED_NM = 650
/** Two faces of glass reflect some 8 %; a loss common to all wavelengths costs nothing anyway. */
const USUAL_TRANSMITTANCE = 0.9

/**
 * ln(transmittance) of a window at a wavelength: straight between its points, held beyond them.
 * Without a window 0.
 */
export function logTransmittance(window: SpectrumWindow | null): (wavelengthNm: number) => number {
  if (window === null) return () => 0
  const logs = window.transmittance.map((value) => Math.log(value))
  return (nm) => interpolate(window.wavelengthNm, logs, nm)
}

/** Standard uncertainties by which noise may lift a clear pane over 1, and by which light must show. */
export const WITHIN_NOISE = 3

/** The most that a pane can pass as it was measured. */
export const mostTransmittance = (standardUncertainty: number): number =>
  1 + WITHIN_NOISE * standardUncertainty

/**
 * Is a window usable: at least one point, rising wavelengths, transmittances above 0 and at most 1
 * and noise, an uncertainty that is not negative?
 */
export function isUsableWindow(window: SpectrumWindow): boolean {
  const { wavelengthNm, transmittance, standardUncertainty, transmittanceUncertainty = 0 } = window
  const most = mostTransmittance(transmittanceUncertainty)
  return (
    wavelengthNm.length > 0 &&
    wavelengthNm.length === transmittance.length &&
    wavelengthNm.every((nm, i) => nm > 0 && (i === 0 || nm > wavelengthNm[i - 1]!)) &&
    transmittance.every((value) => value > 0 && value <= most) &&
    standardUncertainty >= 0 &&
    transmittanceUncertainty >= 0
  )
}

/** Over this distance errors of a measured table become independent, nm. */
const TABLE_REACH_NM = 100

/**
 * The errors of a measured table as independent causes: each gives the change of ln(transmittance) by
 * one standard uncertainty. A photometer errs alike at neighbouring wavelengths (baseline, stray
 * light, linearity) and independently far apart (common practice); at every wavelength the squares
 * add up to the stated uncertainty.
 */
export function tableErrors(window: SpectrumWindow): ((wavelengthNm: number) => number)[] {
  const { wavelengthNm, transmittanceUncertainty = 0 } = window
  const first = wavelengthNm[0]!
  const width = wavelengthNm[wavelengthNm.length - 1]! - first
  if (!(transmittanceUncertainty > 0)) return []
  const logs = logTransmittance(window)
  const steps = Math.max(1, Math.ceil(width / TABLE_REACH_NM))
  return Array.from({ length: steps + 1 }, (_, knot) => (nm: number) => {
    const place = Math.min(steps, Math.max(0, width > 0 ? ((nm - first) / width) * steps : 0))
    const share = Math.cos((Math.PI / 2) * Math.min(1, Math.abs(place - knot)))
    return (share * transmittanceUncertainty) / Math.exp(logs(nm))
  })
}

/**
 * Fused silica ("quartz") of any thickness a shop uses: reflection at its two faces, with light going
 * to and fro between them, T = 2 n / (n^2 + 1). Its own absorption is nothing from 350 to 1100 nm.
 *
 * @param wavelengthNm 210..3700 nm
 * @returns refractive index
 * Source: Malitson 1965 (J. Opt. Soc. Am. 55, 1205), from memory.
 */
export function fusedSilicaIndex(wavelengthNm: number): number {
  const w2 = (wavelengthNm / 1000) ** 2
  return Math.sqrt(
    1 +
      (0.6961663 * w2) / (w2 - 0.0684043 ** 2) +
      (0.4079426 * w2) / (w2 - 0.1162414 ** 2) +
      (0.8974794 * w2) / (w2 - 9.896161 ** 2),
  )
}

/** Transmittance of a clear plane pane by reflection alone (Fresnel, normal incidence). */
export function clearPaneTransmittance(index: number): number {
  return (2 * index) / (index * index + 1)
}

/** A pane of fused silica as a table from 350 to 1100 nm. */
export function quartzWindow(): SpectrumWindow {
  const wavelengthNm = Array.from({ length: 16 }, (_, i) => 350 + 50 * i)
  return {
    wavelengthNm,
    transmittance: wavelengthNm.map((nm) => clearPaneTransmittance(fusedSilicaIndex(nm))),
    standardUncertainty: windowById('quartz')?.standardUncertainty ?? 0.005,
  }
}

/**
 * A window of the list as a spectrum sees it: quartz by its refractive index, others by their stated
 * slope between green and red, held beyond. Null for nothing in front and for an unknown id.
 */
export function windowFromMaterial(id: string): SpectrumWindow | null {
  const material = windowById(id)
  if (material === undefined) return null
  if (material.id === 'quartz') return quartzWindow()
  const { lnGreenOverRed, standardUncertainty } = material
  return {
    wavelengthNm: [GREEN_NM, RED_NM],
    transmittance: [USUAL_TRANSMITTANCE, USUAL_TRANSMITTANCE * Math.exp(-lnGreenOverRed)],
    standardUncertainty,
  }
}

/** Clear window glass without a measured table. */
export function glassWindow(): SpectrumWindow | null {
  return windowFromMaterial('glass')
}
