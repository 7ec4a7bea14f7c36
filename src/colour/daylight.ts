import type { Xy } from './chromaticity.ts'
import { DAYLIGHT_FIRST_NM, DAYLIGHT_STEP_NM, S0, S1, S2 } from './daylight.data.ts'
import { type SpectralPower, spectrumFromSamples } from './xyz.ts'

/** CIE daylight illuminants, 1931 2°. Source: CIE 15:2004, table T.3. */
export const D50: Xy = { x: 0.34567, y: 0.35851 }
export const D55: Xy = { x: 0.33243, y: 0.34744 }
export const D65: Xy = { x: 0.31272, y: 0.32903 }

/**
 * Correlated colour temperatures of the three, K. Their names are older than today's c2: 6500 K
 * became 6504 K when c2 went from 1.4380e-2 to 1.4388e-2 m K (CIE 15:2004, 3.1, note).
 */
export const D50_K = (5000 * 1.4388) / 1.438
export const D55_K = (5500 * 1.4388) / 1.438
export const D65_K = (6500 * 1.4388) / 1.438

export const DAYLIGHT_COLDEST_K = 4000
export const DAYLIGHT_HOTTEST_K = 25000

/**
 * Chromaticity of a phase of daylight.
 *
 * @param temperatureK correlated colour temperature, 4000..25000 K; outside, the end's value
 * Source: CIE 15:2004, 3.1, eqs. 3.1 to 3.3.
 */
export function daylightXy(temperatureK: number): Xy {
  const t = Math.min(Math.max(temperatureK, DAYLIGHT_COLDEST_K), DAYLIGHT_HOTTEST_K)
  const x =
    t <= 7000
      ? -4.607e9 / t ** 3 + 2.9678e6 / t ** 2 + 0.09911e3 / t + 0.244063
      : -2.0064e9 / t ** 3 + 1.9018e6 / t ** 2 + 0.24748e3 / t + 0.23704
  return { x, y: -3 * x * x + 2.87 * x - 0.275 }
}

/**
 * Relative spectrum of a phase of daylight, 100 at 560 nm, linear between steps of 10 nm.
 *
 * @param temperatureK see {@link daylightXy}
 * Source: CIE 15:2004, 3.1, eqs. 3.4 to 3.6; the weights are rounded to three decimals as note 5
 * of table T.1 asks.
 */
export function daylightSpectrum(temperatureK: number): SpectralPower {
  const { x, y } = daylightXy(temperatureK)
  const m = 0.0241 + 0.2562 * x - 0.7341 * y
  const round = (value: number) => Math.round(value * 1000) / 1000
  const m1 = round((-1.3515 - 1.7703 * x + 5.9114 * y) / m)
  const m2 = round((0.03 - 31.4424 * x + 30.0717 * y) / m)
  const samples = S0.map((s0, i) => s0 + m1 * S1[i]! + m2 * S2[i]!)
  return spectrumFromSamples(samples, DAYLIGHT_FIRST_NM, DAYLIGHT_STEP_NM)
}
