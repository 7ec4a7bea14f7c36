import { describe, expect, test } from 'vitest'
import type { LiveLine } from '../../../src/estimate/live/live-line.ts'
import { FrameBins } from '../../../src/estimate/recording/bins.ts'
import { EstimateSampler, MOST_SAMPLES } from '../../../src/estimate/recording/estimate-sampler.ts'
import { expectClose } from '../../close-to.ts'

describe('frames of one reading', () => {
  const frame = (plain: number, lnRed = 0) => ({ plain, lnRed })

  test('are their medians, and how many there were', () => {
    const bins = new FrameBins()
    for (const [plain, red] of [
      [1, 5],
      [9, 4],
      [2, 6],
    ] as const)
      bins.add(frame(plain, red))
    expect(bins.take()).toMatchObject({ plain: 2, lnRed: 5, frames: 3 })
    expect(bins.take()).toBeNull()
  })

  test('scatter by the steps from one to the next: of two a mean, of more a median, 1.253 times that', () => {
    const of = (...plain: number[]) => {
      const bins = new FrameBins()
      for (const value of plain) bins.add(frame(value))
      return bins.take()!.lnNoise
    }
    // One step: its root mean square is that of two frames (von Neumann 1941).
    expectClose(of(0, 0.1), 0.1 / Math.SQRT2 / Math.SQRT2, 1e-9)
    // Every step alike.
    expectClose(of(0, 0.1, 0), (1.253 * 0.1) / Math.SQRT2 / Math.sqrt(3), 1e-9)
    // Codes are whole numbers: they scatter by 0.0002 at least.
    expectClose(of(0, 0), 2e-4 / Math.SQRT2, 1e-9)
    expectClose(of(3), 2e-4, 1e-9)
  })

  test('remember the scatter over readings, but no step over a loss of the glow', () => {
    const bins = new FrameBins()
    bins.add(frame(0))
    bins.add(frame(0.1))
    bins.take()
    // The step to here is none; that of before is still known, a fiftieth less with each.
    bins.clear()
    bins.add(frame(5))
    expectClose(bins.take()!.lnNoise, 0.1 / Math.SQRT2, 1e-9)
    bins.add(frame(5))
    expectClose(bins.take()!.lnNoise, (0.1 / Math.SQRT2) * Math.sqrt(0.98), 1e-9)
  })

  test('that were gathered when the glow was lost are no reading', () => {
    const bins = new FrameBins()
    bins.add(frame(1))
    bins.clear()
    expect(bins.take()).toBeNull()
  })
})

describe('estimates kept of a recording', () => {
  const line = (temperatureK: number | null) =>
    ({
      estimate:
        temperatureK === null ? { kind: 'no number' } : { kind: 'temperature', temperatureK },
      input: { at: temperatureK },
      lnRatio: -2,
    }) as unknown as LiveLine

  test('are those 15 K from the one before, and no other', () => {
    const sampler = new EstimateSampler()
    expect(sampler.add(1, line(null))).toBe(false)
    expect([1200, 1214, 1216, 1202, 1200].map((kelvin, i) => sampler.add(i, line(kelvin)))).toEqual(
      [true, false, true, false, true],
    )
    expect(sampler.samples.map(({ seconds, temperatureK }) => [seconds, temperatureK])).toEqual([
      [0, 1200],
      [2, 1216],
      [4, 1200],
    ])
    expect(sampler.samples[1]).toMatchObject({ lnRatio: -2, input: { at: 1216 } })
  })

  test('are never more than sixty: then every second one goes, and they are taken more seldom', () => {
    const sampler = new EstimateSampler()
    for (let i = 0; i < MOST_SAMPLES; i++) sampler.add(i, line(1000 + 20 * i))
    expect(sampler.samples).toHaveLength(MOST_SAMPLES)
    sampler.add(60, line(1000 + 20 * 60))
    expect(sampler.samples.map(({ seconds }) => seconds)).toEqual(
      Array.from({ length: 31 }, (_, i) => 2 * i),
    )
    expect(sampler.add(61, line(1000 + 20 * 60 + 29))).toBe(false)
    expect(sampler.add(62, line(1000 + 20 * 60 + 31))).toBe(true)
  })
})
