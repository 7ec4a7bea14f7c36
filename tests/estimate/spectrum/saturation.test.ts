import { describe, expect, it } from 'vitest'
import { saturatedSamples } from '../../../src/estimate/spectrum/saturation.ts'

const grid = Array.from({ length: 400 }, (_, i) => 400 + i)
const peak = (top: number, width: number) =>
  grid.map((nm) => Math.round(top * Math.exp(-0.5 * ((nm - 600) / width) ** 2)))
const flagged = (signal: number[], level?: number) =>
  saturatedSamples({ name: null, wavelengthNm: grid, signal }, level).reduce((a, b) => a + b, 0)

describe('saturated samples', () => {
  it('are those of a flat top, with the samples beside it', () => {
    const signal = peak(90_000, 60).map((value) => Math.min(value, 65_535))
    const full = signal.filter((value) => value === 65_535).length
    expect(flagged(signal)).toBe(full + 4)
  })

  it('are found on a level of dark that was not taken off', () => {
    const signal = peak(90_000, 60).map((value) => Math.min(value, 61_000) + 4000)
    const full = signal.filter((value) => value === 65_000).length
    expect(flagged(signal)).toBe(full + 4)
  })

  it('are not those of a rounded peak', () => {
    for (const top of [50, 300, 4000, 65_000]) {
      for (const width of [20, 60, 200]) expect(flagged(peak(top, width))).toBe(0)
    }
  })

  it('are all at or above a stated level', () => {
    const signal = peak(60_000, 60)
    const above = signal.filter((value) => value >= 50_000).length
    expect(flagged(signal, 50_000)).toBe(above + 4)
  })

  it('make a flat top of three at least, from which the light falls by more than eight steps', () => {
    /** A ramp by single steps with a flat top, which falls by so many steps within its own length. */
    const topped = (length: number, fall: number) =>
      grid.map((_, i) => {
        const beside = Math.abs(i - 200) - (length - 1) / 2
        return beside <= 0
          ? 4000
          : 4000 - (beside < length ? 0 : fall) - Math.ceil(beside / 50) * 0.1
      })
    // Steps of a tenth: a fall of 8.5 steps, of 7.5.
    expect(flagged(topped(3, 0.75))).toBe(3 + 4)
    expect(flagged(topped(3, 0.65))).toBe(0)
    expect(flagged(topped(1, 5))).toBe(0)
  })
})
