import { erfc } from './error-function.ts'

/**
 * Student's t as a mixture of normals: variance s with weight p. Cameras do not spread normally:
 * three in fifty lie beyond three standard deviations, and another set of cameras spreads twice as
 * wide. With 3 degrees of freedom the mixture fits the coefficients of measured cameras (their
 * median deviation is 0.6 of a normal's), and references that disagree with the mean camera widen
 * what is left unknown.
 *
 * Source: the inverse gamma mixture, e.g. Gelman et al., Bayesian Data Analysis, 3rd ed., 12.1.
 */
export interface Scale {
  readonly variance: number
  readonly weight: number
}

const DEGREES_OF_FREEDOM = 3
const LEAST = 0.15
const LARGEST = 25
const NODES = 7

/** Even steps in ln s; the density of an inverse gamma with mean 1: shape nu/2, rate nu/2 - 1. */
export const SCALES: readonly Scale[] = (() => {
  const shape = DEGREES_OF_FREEDOM / 2
  const rate = shape - 1
  const nodes = Array.from({ length: NODES }, (_, i) => {
    const variance = LEAST * (LARGEST / LEAST) ** (i / (NODES - 1))
    return { variance, weight: variance ** -shape * Math.exp(-rate / variance) }
  })
  const total = nodes.reduce((sum, node) => sum + node.weight, 0)
  return nodes.map(({ variance, weight }) => ({ variance, weight: weight / total }))
})()

/** The same in three steps, for where another uncertainty is the larger. */
export const COARSE_SCALES: readonly Scale[] = [
  SCALES.slice(0, 2),
  SCALES.slice(2, 4),
  SCALES.slice(4),
].map((near) => {
  const weight = near.reduce((sum, scale) => sum + scale.weight, 0)
  const variance = near.reduce((sum, scale) => sum + scale.weight * scale.variance, 0) / weight
  return { variance, weight }
})

const ROOT_TWO_PI = Math.sqrt(2 * Math.PI)

/** Density of a normal distribution about 0. */
export function normalDensity(value: number, sd: number): number {
  const z = value / sd
  return Math.exp(-0.5 * z * z) / (sd * ROOT_TWO_PI)
}

/** Densities of two normal distributions about 0, multiplied: with one exponential for both. */
export function densityOfTwo(a: number, sdOfA: number, b: number, sdOfB: number): number {
  const x = a / sdOfA
  const y = b / sdOfB
  return Math.exp(-0.5 * (x * x + y * y)) / (sdOfA * sdOfB * (2 * Math.PI))
}

/** Standard normal distribution function; 1 beyond 8.3, where it differs from it by less than a rounding. */
export function normalCdf(z: number): number {
  if (z > 8.3) return 1
  return 0.5 * erfc(-z / Math.SQRT2)
}

/**
 * Inverse of {@link normalCdf} for a lower tail, by bisection; beyond 37 standard deviations -37.
 *
 * @param probability 0..1
 */
export function normalQuantile(probability: number): number {
  let low = -37
  let high = 37
  while (high - low > 1e-9) {
    const middle = (low + high) / 2
    if (normalCdf(middle) < probability) low = middle
    else high = middle
  }
  return (low + high) / 2
}
