import { describe, expect, it } from 'vitest'
import { smoothNoMoreThanNeeded } from '../../../src/estimate/spectrum/smoothing.ts'
import { normal, seededRandom } from '../../accuracy/spectrum-simulation.ts'

const uneven = Array.from({ length: 600 }, (_, i) => 400 + 0.4 * i + 0.1 * Math.sin(i))

describe('smoothing no more than needed', () => {
  it('leaves a quiet response as it is', () => {
    const raw = uneven.map((nm) => 1 + 0.3 * Math.sin(nm / 5))
    const { value, halfWidthNm } = smoothNoMoreThanNeeded(
      uneven,
      raw,
      raw.map((v) => 0.009 * v),
    )
    expect([...value]).toEqual(raw)
    expect(halfWidthNm.every((width) => width === 0)).toBe(true)
  })

  it('passes a parabola unchanged on an uneven grid', () => {
    const raw = uneven.map((nm) => 1 + 2e-3 * (nm - 500) + 1e-5 * (nm - 500) ** 2)
    const { value, halfWidthNm } = smoothNoMoreThanNeeded(
      uneven,
      raw,
      raw.map((v) => 0.05 * v),
    )
    expect(Math.min(...halfWidthNm)).toBeGreaterThan(1)
    value.forEach((v, i) => {
      expect(Math.abs(v / raw[i]! - 1)).toBeLessThan(1e-10)
    })
  })

  it('brings noise down to what it says', () => {
    const random = seededRandom(11)
    const sigma = uneven.map(() => 0.03)
    let ratio = 0
    let count = 0
    for (let round = 0; round < 20; round++) {
      const raw = uneven.map(() => 1 + 0.03 * normal(random))
      const smoothed = smoothNoMoreThanNeeded(uneven, raw, sigma)
      smoothed.value.forEach((v, i) => {
        ratio += ((v - 1) / smoothed.sigma[i]!) ** 2
        count += 1
      })
    }
    // 12000 samples, about 20 in a window: the mean square is good to 6 %. Windows that stop early
    // do so where the noise is large, which adds a little.
    expect(Math.sqrt(ratio / count)).toBeGreaterThan(0.9)
    expect(Math.sqrt(ratio / count)).toBeLessThan(1.15)
  })

  it('does not round off an edge', () => {
    const random = seededRandom(12)
    const clean = uneven.map((nm) => 0.05 + 1 / (1 + Math.exp((nm - 520) / 1.5)))
    const sigma = clean.map((v) => 0.02 * v)
    const raw = clean.map((v, i) => v + sigma[i]! * normal(random))
    const { value } = smoothNoMoreThanNeeded(uneven, raw, sigma)
    uneven.forEach((nm, i) => {
      if (Math.abs(nm - 520) > 8) return
      expect(Math.abs(value[i]! - clean[i]!)).toBeLessThan(4 * sigma[i]!)
    })
  })
})
