import { describe, expect, it } from 'vitest'
import { estimateNoise, noiseVariance } from '../../../src/estimate/spectrum/noise.ts'
import { normal, seededRandom } from '../../accuracy/spectrum-simulation.ts'

const grid = Array.from({ length: 2048 }, (_, i) => 340 + i * 0.33)
const smooth = (nm: number) => 40_000 * Math.exp(-0.5 * ((nm - 600) / 90) ** 2)

describe('noise of a single spectrum', () => {
  it('finds floor and shot noise that were put in', () => {
    const random = seededRandom(3)
    const noisy = grid.map((nm) => {
      const signal = smooth(nm)
      return signal + Math.sqrt(400 + 1.5 * signal) * normal(random)
    })
    const model = estimateNoise(grid, noisy)
    // 2048 samples in 12 groups: a standard deviation from medians is good to about 9 % a group.
    for (const signal of [0, 1000, 10_000, 40_000]) {
      const ratio = Math.sqrt(noiseVariance(model, signal) / (400 + 1.5 * signal))
      expect(ratio).toBeGreaterThan(0.85)
      expect(ratio).toBeLessThan(1.15)
    }
  })

  it('does not take the shape of a smooth spectrum for noise', () => {
    const coarse = Array.from({ length: 81 }, (_, i) => 380 + 5 * i)
    const model = estimateNoise(coarse, coarse.map(smooth))
    expect(Math.sqrt(noiseVariance(model, 40_000))).toBeLessThan(40_000 * 2e-4)
  })

  it('is not moved by a few lines', () => {
    const random = seededRandom(4)
    const quiet = grid.map((nm) => smooth(nm) + 20 * normal(random))
    const lined = quiet.map((value, i) => (i % 100 === 0 ? value + 9000 : value))
    const ratio = estimateNoise(grid, lined).floor / estimateNoise(grid, quiet).floor
    expect(ratio).toBeLessThan(1.6)
  })

  it('keeps its weight where the instrument has smoothed it', () => {
    const random = seededRandom(5)
    const white = grid.map((nm) => smooth(nm) + 30 * normal(random))
    const reach = 3
    const smoothed = white.map((_, i) => {
      const near = white.slice(Math.max(0, i - reach), i + reach + 1)
      return near.reduce((sum, value) => sum + value, 0) / near.length
    })
    const ratio = estimateNoise(grid, smoothed).floor / estimateNoise(grid, white).floor
    // Means of many samples have the same spread before and after: 7 samples shared, 49 times quieter.
    expect(ratio).toBeGreaterThan(0.5)
    expect(ratio).toBeLessThan(2)
  })

  it('stays finite for flat, tiny and empty input', () => {
    for (const signal of [[], [1], [0, 0, 0, 0, 0, 0], [1, 1, 1, 1, 1, 1, 1, 1]]) {
      const model = estimateNoise(
        signal.map((_, i) => 400 + i),
        signal,
      )
      expect(noiseVariance(model, 1)).toBeGreaterThan(0)
      expect(Number.isFinite(noiseVariance(model, 1))).toBe(true)
    }
  })
})
