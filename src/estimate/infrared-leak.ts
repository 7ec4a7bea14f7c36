/**
 * How much infrared a camera's filter lets through is not known: over decades any order is as likely
 * as any other. A leak only adds light, so it is never negative; the estimate goes through ranges of
 * it, one after the other, and lets references and blue weigh them.
 */
import { type LeakTest, leakTestLikelihood } from './leak-test.ts'
import type { LeakEstimate } from './types.ts'

/** A range of leaks: the filter's transmittance beyond 780 nm over that of the visible. */
export interface LeakRange {
  readonly mean: number
  readonly sd: number
  readonly weight: number
}

/** Edges of the ranges, with the density of ln(leak) between them. */
const EDGES: readonly (readonly [from: number, to: number, density: number])[] = [
  // Up to 1e-4 a leak moves no reading above 900 K by more than its camera's other departures.
  [1e-5, 1e-4, 1],
  [1e-4, 2.5e-4, 1],
  [2.5e-4, 6.3e-4, 1],
  [6.3e-4, 1.6e-3, 1],
  [1.6e-3, 4e-3, 0.8],
  // Little of cameras whose filter was taken out or never was.
  [4e-3, 1e-2, 0.15],
]

/**
 * The prior: even in ln(leak) from 1e-5 to some 3e-3, common practice (no published survey); after the
 * camera's own tests.
 */
export function leakRanges(tests: readonly LeakTest[]): LeakRange[] {
  const ranges = EDGES.map(([from, to, density]) => {
    // Moments of a leak that is even in its logarithm.
    const decades = Math.log(to / from)
    const mean = (to - from) / decades
    const square = (to * to - from * from) / (2 * decades)
    const likelihood = leakTestLikelihood(tests, Math.sqrt(from * to))
    return { mean, sd: Math.sqrt(square - mean * mean), weight: decades * density * likelihood }
  })
  const total = ranges.reduce((sum, { weight }) => sum + weight, 0)
  return ranges.map((range) => ({ ...range, weight: range.weight / total }))
}

const STEPS = 40

/** The leak of a camera of which nothing but these tests is known: median and bounds of 95 %. */
export function leakAfterTests(tests: readonly LeakTest[]): LeakEstimate {
  const points = EDGES.flatMap(([from, to, density]) => {
    const step = Math.log(to / from) / STEPS
    return Array.from({ length: STEPS }, (_, i) => {
      const leak = from * Math.exp((i + 0.5) * step)
      return { leak, weight: density * step * leakTestLikelihood(tests, leak) }
    })
  })
  const total = points.reduce((sum, { weight }) => sum + weight, 0)
  const at = (probability: number): number => {
    let below = 0
    for (const { leak, weight } of points) {
      below += weight
      if (below >= probability * total) return leak
    }
    return points.at(-1)!.leak
  }
  return { median: at(0.5), low95: at(0.025), high95: at(0.975) }
}
