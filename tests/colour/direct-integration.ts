/**
 * The reference that the fast code is held against: Planck's law summed over the whole published
 * 1 nm observer (ISO/CIE 11664-1), and an inverse by plain search
 * on it. Slow, short, and without code in common with what it tests.
 */
import { readObserver } from '../measured-data.ts'

export const OBSERVER_1NM = readObserver().map(([nm, x, y, z]) => ({
  nm,
  bars: [x, y, z] as const,
}))

/** CODATA 2018. */
const C2 = 0.014387768775039337

/** XYZ of any spectrum given by wavelength in nm, plain sums by 1 nm. */
export function directXyz(spectrum: (nm: number) => number): [number, number, number] {
  const sum: [number, number, number] = [0, 0, 0]
  for (const { nm, bars } of OBSERVER_1NM) {
    const value = spectrum(nm)
    for (let k = 0; k < 3; k++) sum[k]! += value * bars[k]!
  }
  return sum
}

/** Relative Planck spectrum, scaled so that it never underflows. */
export const planck =
  (temperatureK: number, c2 = C2) =>
  (nm: number): number => {
    const m = nm * 1e-9
    const exponent = c2 / (m * temperatureK)
    const reference = c2 / (830e-9 * temperatureK)
    return (m / 830e-9) ** -5 * (Math.exp(reference - exponent) / (1 - Math.exp(-exponent)))
  }

export function directUv(temperatureK: number): readonly [number, number] {
  const [X, Y, Z] = directXyz(planck(temperatureK))
  const d = X + 15 * Y + 3 * Z
  return [(4 * X) / d, (6 * Y) / d]
}

/** Correlated colour temperature by golden-section search over mired on the direct integral. */
export function directTemperature(u: number, v: number, fromK = 700, toK = 20000): number {
  const distance = (mired: number) => {
    const [lu, lv] = directUv(1e6 / mired)
    return (u - lu) ** 2 + (v - lv) ** 2
  }
  const golden = (Math.sqrt(5) - 1) / 2
  let low = 1e6 / toK
  let high = 1e6 / fromK
  let a = high - golden * (high - low)
  let b = low + golden * (high - low)
  let atA = distance(a)
  let atB = distance(b)
  while (high - low > 1e-4) {
    if (atA < atB) {
      high = b
      b = a
      atB = atA
      a = high - golden * (high - low)
      atA = distance(a)
    } else {
      low = a
      a = b
      atA = atB
      b = low + golden * (high - low)
      atB = distance(b)
    }
  }
  return 2e6 / (low + high)
}
