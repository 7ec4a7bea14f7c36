import type { Xy } from './chromaticity.ts'
import type { SpectralPower } from './xyz.ts'

/** CIE standard illuminant A, 1931 2°: a filament lamp. Source: CIE 15:2004, table T.3. */
export const ILLUMINANT_A: Xy = { x: 0.44758, y: 0.40745 }
/**
 * Its colour temperature with today's c2, K: defined as 2848 K with c2 = 1.4350e-2 m K
 * (ISO/CIE 11664-2).
 */
export const ILLUMINANT_A_K = (2848 * 1.4388) / 1.435

/**
 * Relative spectrum of illuminant A, 100 at 560 nm.
 *
 * @param wavelengthNm 300..830 nm
 * Source: CIE 15:2004, 3.1, eq. for S_A.
 */
export const illuminantA: SpectralPower = (wavelengthNm) => {
  const exponent = 1.435e7 / 2848
  return (
    (100 * (560 / wavelengthNm) ** 5 * Math.expm1(exponent / 560)) /
    Math.expm1(exponent / wavelengthNm)
  )
}

/** A white LED as a model: a blue emitter and the broad hump of its phosphor. */
export interface LedModel {
  readonly bluePeakNm: number
  /** Full width at half maximum, nm. */
  readonly blueWidthNm: number
  readonly phosphorPeakNm: number
  readonly phosphorWidthNm: number
  /** Height of the blue peak over that of the phosphor. */
  readonly blueHeight: number
}

/**
 * Two invented lamps of common shape (common practice: blue near 450 nm by 20 nm, phosphor hump
 * of 110..150 nm): a cool white of 5000 K and a warm one of 2700 K. They stand for the kind, not for a product.
 */
export const COOL_LED: LedModel = {
  bluePeakNm: 450,
  blueWidthNm: 20,
  phosphorPeakNm: 570,
  phosphorWidthNm: 130,
  blueHeight: 1.5,
}
export const WARM_LED: LedModel = {
  bluePeakNm: 452,
  blueWidthNm: 22,
  phosphorPeakNm: 602,
  phosphorWidthNm: 135,
  blueHeight: 0.35,
}

/** Relative spectrum of an {@link LedModel}: two Gaussians, the phosphor's peak at 1. */
export function ledSpectrum(led: LedModel): SpectralPower {
  const gaussian = (wavelengthNm: number, peakNm: number, widthNm: number) =>
    Math.exp(-4 * Math.LN2 * ((wavelengthNm - peakNm) / widthNm) ** 2)
  return (wavelengthNm) =>
    led.blueHeight * gaussian(wavelengthNm, led.bluePeakNm, led.blueWidthNm) +
    gaussian(wavelengthNm, led.phosphorPeakNm, led.phosphorWidthNm)
}
