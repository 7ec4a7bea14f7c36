/** Of the fit's powers of t, the highest first. */
const FALLING = [
  0.17087277, -0.82215223, 1.48851587, -1.13520398, 0.27886807, -0.18628806, 0.09678418, 0.37409196,
  1.00002368, -1.26551223,
] as const

/**
 * Complementary error function, relative error below 1.2e-7 everywhere.
 * Source: Press et al., Numerical Recipes, 2nd ed., 6.2 (Chebyshev fit by W. Fullerton's method).
 */
export function erfc(x: number): number {
  const t = 1 / (1 + Math.abs(x) / 2)
  let series = 0
  for (const coefficient of FALLING) series = series * t + coefficient
  const value = t * Math.exp(-x * x + series)
  return x >= 0 ? value : 2 - value
}

/** Error function; see {@link erfc}. */
export const erf = (x: number): number => 1 - erfc(x)
