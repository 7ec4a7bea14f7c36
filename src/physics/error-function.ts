/**
 * Complementary error function, relative error below 1.2e-7 everywhere.
 * Source: Press et al., Numerical Recipes, 2nd ed., 6.2 (Chebyshev fit by W. Fullerton's method).
 */
export function erfc(x: number): number {
  const z = Math.abs(x)
  const t = 1 / (1 + 0.5 * z)
  const series =
    -1.26551223 +
    t *
      (1.00002368 +
        t *
          (0.37409196 +
            t *
              (0.09678418 +
                t *
                  (-0.18628806 +
                    t *
                      (0.27886807 +
                        t *
                          (-1.13520398 + t * (1.48851587 + t * (-0.82215223 + t * 0.17087277))))))))
  const value = t * Math.exp(-z * z + series)
  return x >= 0 ? value : 2 - value
}

/** Error function; see {@link erfc}. */
export const erf = (x: number): number => 1 - erfc(x)
