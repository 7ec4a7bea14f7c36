import type { Triple } from '../numerics/matrix3.ts'
import { OBSERVER_FIRST_NM, OBSERVER_STEP_NM, X_BAR, Y_BAR, Z_BAR } from './observer.data.ts'

/** Samples of the observer: 95, from 360 to 830 nm by 5 nm. */
export const OBSERVER_COUNT = X_BAR.length
export const OBSERVER_LAST_NM = OBSERVER_FIRST_NM + (OBSERVER_COUNT - 1) * OBSERVER_STEP_NM
export { OBSERVER_FIRST_NM, OBSERVER_STEP_NM }

/** Wavelengths of the samples, m. */
export const OBSERVER_WAVELENGTHS_M: Float64Array = Float64Array.from(
  X_BAR,
  (_, i) => (OBSERVER_FIRST_NM + i * OBSERVER_STEP_NM) * 1e-9,
)

/** A column of the table times the step in metres; the two ends count half (trapezoid rule). */
function weights(column: readonly number[]): Float64Array {
  const last = column.length - 1
  const step = OBSERVER_STEP_NM * 1e-9
  return Float64Array.from(column, (value, i) => value * step * (i === 0 || i === last ? 0.5 : 1))
}

/**
 * Weights of the integrals over wavelength, m: the sum of spectrum times weight is the integral of
 * spectrum times colour-matching function.
 */
export const X_WEIGHTS: Float64Array = weights(X_BAR)
export const Y_WEIGHTS: Float64Array = weights(Y_BAR)
export const Z_WEIGHTS: Float64Array = weights(Z_BAR)

/**
 * Colour-matching functions of the CIE 1931 2° observer at a wavelength: cubic through the four
 * nearest samples, within 0.0024 of the published 1 nm values.
 *
 * @param wavelengthNm nm; outside 360..830 the eye's answer is taken as nothing: [0, 0, 0]
 * @example observerAt(555) // [0.51205, 1, 0.00575]
 * Source: ISO/CIE 11664-1:2019; Lagrange interpolation as in CIE 15:2018, 7.2.1.
 */
export function observerAt(wavelengthNm: number): Triple {
  const position = (wavelengthNm - OBSERVER_FIRST_NM) / OBSERVER_STEP_NM
  if (!(position >= 0 && position <= OBSERVER_COUNT - 1)) return [0, 0, 0]
  const first = Math.min(Math.max(Math.floor(position) - 1, 0), OBSERVER_COUNT - 4)
  const t = position - first
  const w0 = ((1 - t) * (t - 2) * (t - 3)) / 6
  const w1 = (t * (t - 2) * (t - 3)) / 2
  const w2 = (t * (t - 1) * (3 - t)) / 2
  const w3 = (t * (t - 1) * (t - 2)) / 6
  // Where the printed digits of the tails end in steps, the cubic dips below 0.
  const at = (column: readonly number[]) =>
    Math.max(
      w0 * column[first]! +
        w1 * column[first + 1]! +
        w2 * column[first + 2]! +
        w3 * column[first + 3]!,
      0,
    )
  return [at(X_BAR), at(Y_BAR), at(Z_BAR)]
}
