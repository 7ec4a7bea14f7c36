/**
 * Complementary error function, relative error below 1.2e-7 everywhere.
 * Source: Numerical Recipes, erfcc (Chebyshev fit), coefficients as printed there.
 */
export function erfc(x: number): number {
  const t = 1 / (1 + Math.abs(x) / 2)
  const coefficients = [
    -1.26551223, 1.00002368, 0.37409196, 0.09678418, -0.18628806, 0.27886807, -1.13520398,
    1.48851587, -0.82215223, 0.17087277,
  ]
  const series = coefficients.reduceRight((sum, c) => sum * t + c, 0)
  const value = t * Math.exp(-x * x + series)
  return x >= 0 ? value : 2 - value
}

/** Error function; see {@link erfc}. */
export const erf = (x: number): number => 1 - erfc(x)
