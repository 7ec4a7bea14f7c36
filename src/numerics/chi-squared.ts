import { erfc } from './error-function.ts'

/**
 * Chance that a sum of n squared standard normal deviates is at least as large.
 *
 * @param value chi-squared, >= 0
 * @param degreesOfFreedom a whole number >= 0; 0 gives 1
 * @example chiSquaredProbability(3.841, 1) // 0.05
 * Source: Abramowitz & Stegun 26.4.4, 26.4.5 (recurrence from one and two degrees).
 */
export function chiSquaredProbability(value: number, degreesOfFreedom: number): number {
  if (degreesOfFreedom < 1 || value <= 0) return 1
  const x = value / 2
  const odd = degreesOfFreedom % 2 === 1
  let probability = odd ? erfc(Math.sqrt(x)) : Math.exp(-x)
  // term = x^(k/2) e^-x / Gamma(k/2 + 1), the step from k to k + 2 degrees.
  let term = odd ? Math.sqrt(x / Math.PI) * 2 * Math.exp(-x) : x * Math.exp(-x)
  for (let k = odd ? 3 : 4; k <= degreesOfFreedom; k += 2) {
    probability += term
    term *= x / (k / 2)
  }
  return Math.min(1, probability)
}
