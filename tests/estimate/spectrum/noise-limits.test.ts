import { describe, expect, test } from 'vitest'
import { estimateNoise, noiseVariance } from '../../../src/estimate/spectrum/noise.ts'
import { normal, seededRandom } from '../../accuracy/spectrum-simulation.ts'

const evenly = (count: number, step: number) =>
  Array.from({ length: count }, (_, i) => 400 + step * i)
/** Up and down from sample to sample. */
const alternating = (count: number, size: number, level = 1000) =>
  Array.from({ length: count }, (_, i) => level + (i % 2 === 0 ? size : -size))
/** Noise in which neighbours have a running mean over seven samples in common, beside their own. */
function shared(count: number, own: number): number[] {
  const random = seededRandom(8)
  const white = Array.from({ length: count + 6 }, () => normal(random))
  return Array.from({ length: count }, (_, i) => {
    const mean = white.slice(i, i + 7).reduce((sum, v) => sum + v, 0) / 7
    return 1000 + 30 * mean + own * normal(random)
  })
}

describe('the noise of a spectrum', () => {
  test('is how far a sample lies from the cubic through its neighbours, by a normal’s median', () => {
    // Weights -1/6, 2/3, 2/3, -1/6: 8/3 of the size off, and 35/18 of a sample's variance.
    const size = (8 / 3 / Math.sqrt(35 / 18) / 0.67449) * 5
    const model = estimateNoise(evenly(60, 1), alternating(60, 5))
    expect(Math.sqrt(noiseVariance(model, 1000)) / size).toBeCloseTo(1, 4)
  })

  test('is the same on uneven wavelengths where the spectrum is a cubic: none', () => {
    const nm = Array.from({ length: 40 }, (_, i) => 400 + i + 0.3 * Math.sin(i))
    const cubic = nm.map((at) => 900 + (at - 420) + 0.05 * (at - 420) ** 2 + 0.01 * (at - 420) ** 3)
    const { floor, perSignal } = estimateNoise(nm, cubic)
    // No instrument is better than a hundred-thousandth of its largest signal.
    expect(Math.sqrt(floor) / (1e-5 * Math.max(...cubic))).toBeCloseTo(1, 6)
    expect(perSignal).toBeLessThan(1e-6)
    expect(estimateNoise([400, 401, 402, 403], [7, -9, 7, 9]).floor).toBeCloseTo(9e-5 ** 2, 15)
  })

  test('grows with the signal, and not below none', () => {
    // Twelve levels, each with the size of shot noise.
    const levels = Array.from({ length: 480 }, (_, i) => 100 * 2 ** Math.floor(i / 40))
    const signal = levels.map((level, i) => level + (i % 2 === 0 ? 1 : -1) * Math.sqrt(3 * level))
    const model = estimateNoise(evenly(480, 2), signal)
    const factor = (8 / 3 / Math.sqrt(35 / 18) / 0.67449) ** 2
    expect(Math.abs(model.perSignal / (3 * factor) - 1)).toBeLessThan(0.1)
    expect(model.floor).toBeLessThan(3 * factor * 100)
    const falling = levels.map((level, i) => level + (i % 2 === 0 ? 1 : -1) * (3e4 / level))
    expect(estimateNoise(evenly(480, 2), falling).perSignal).toBe(0)
    expect(noiseVariance(model, -50)).toBe(model.floor)
  })
})

describe('noise that neighbours share', () => {
  const floor = (signal: readonly number[], step: number) =>
    estimateNoise(evenly(signal.length, step), signal).floor

  test('is looked for in ninety-six samples at least', () => {
    const signal = shared(96, 0)
    expect(floor(signal, 0.3) / floor(signal, 3)).toBeGreaterThan(2)
    expect(floor(signal.slice(1), 0.3) / floor(signal.slice(1), 3)).toBeCloseTo(1, 9)
  })

  test('is looked for where three samples lie within 4 nm, and over twelve of them at most', () => {
    const signal = shared(400, 0)
    const growth = (step: number) => floor(signal, step) / floor(signal, 3)
    expect(growth(1.32)).toBeGreaterThan(2)
    expect(growth(1.35)).toBeCloseTo(1, 9)
    // From 4 nm over twelve samples on, a finer grid reaches no further.
    expect(growth(0.33) / growth(0.1)).toBeCloseTo(1, 6)
    expect(growth(0.35) / growth(0.1)).not.toBeCloseTo(1, 3)
  })

  test('counts from one and a half times the variance of neighbours on, by its square', () => {
    const growths = Array.from({ length: 40 }, (_, k) => {
      const signal = shared(400, 2 + 0.25 * k)
      return floor(signal, 0.3) / floor(signal, 3)
    })
    const counted = growths.filter((growth) => growth > 1 + 1e-9)
    expect(counted.length).toBeGreaterThan(0)
    expect(counted.length).toBeLessThan(growths.length)
    // 1.5 squared.
    expect(Math.min(...counted)).toBeGreaterThan(2.25)
    expect(Math.min(...counted)).toBeLessThan(2.7)
  })
})
