/**
 * Complementary error function, relative error below 1.2e-7 everywhere.
 * Source: Press et al., Numerical Recipes, 2nd ed., 6.2 (Chebyshev fit by W. Fullerton's method).
 */
export function erfc(x: number): number {
  const t = 1 / (1 + Math.abs(x) / 2)
  // Written out, not looped over: estimates ask for it a million times.
  let series = 0.17087277
  series = series * t - 0.82215223
  series = series * t + 1.48851587
  series = series * t - 1.13520398
  series = series * t + 0.27886807
  series = series * t - 0.18628806
  series = series * t + 0.09678418
  series = series * t + 0.37409196
  series = series * t + 1.00002368
  series = series * t - 1.26551223
  const value = t * Math.exp(-x * x + series)
  return x >= 0 ? value : 2 - value
}

/** Error function; see {@link erfc}. */
export const erf = (x: number): number => 1 - erfc(x)
