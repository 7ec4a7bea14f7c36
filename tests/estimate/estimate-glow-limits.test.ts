import { describe, expect, test } from 'vitest'
import { estimateGlow } from '../../src/estimate/estimate-glow.ts'
import { CARD, colour, reading, reference, STEEL, salt, seen, temperature } from './inputs.ts'

describe('the limits', () => {
  test('below 900 K there is an upper bound and no number', () => {
    const cold = estimateGlow(reading(seen(820)))
    expect(cold.kind).toBe('below range')
    if (cold.kind === 'below range') {
      expect(cold.upperBoundK).toBeGreaterThan(820)
      expect(cold.upperBoundK).toBeLessThan(1100)
    }
  })

  test('the bound holds 39 times in 40, as the upper end of an interval: 1.960 standard uncertainties above (JCGM 100, table G.1)', () => {
    const references = [880, 930, 980].map((t) => reference(t, 8, seen(t)))
    const surface = { ...STEEL, piece: 'another', standardUncertainty: 0.06 }
    const at = (t: number) => reading(seen(t), { references, surface })
    const cold = estimateGlow(at(900))
    const [warm, warmer] = [temperature(at(905)), temperature(at(910))]
    // What it would read, were it not cold: on the line through the two that are not.
    const readK = 2 * warm.temperatureK - warmer.temperatureK
    const bound = cold.kind === 'below range' ? cold.upperBoundK : Number.NaN
    const deviations = (bound - readK) / warm.standardUncertaintyK
    expect(Math.abs(deviations - 1.96)).toBeLessThan(0.15)
  })

  test('green at the floor is a bound, not a value', () => {
    const quality = { ...reading(seen(1173)).quality, floorShare: [0, 0.2, 0.9] as const }
    expect(estimateGlow(reading(seen(1173), { quality })).kind).toBe('below range')
    expect(estimateGlow(reading(colour(-0.01, 0))).kind).toBe('below range')
  })

  test('a clipped glow gets no number', () => {
    const quality = { ...reading(seen(1173)).quality, clippedShare: 0.05 }
    expect(estimateGlow(reading(seen(1173), { quality }))).toMatchObject({
      kind: 'no number',
      reason: 'clipped',
    })
  })

  test('darkness, daylight and nonsense get none either', () => {
    const dark = colour(0.1, 0.03, 2)
    expect(estimateGlow(reading(dark))).toMatchObject({ kind: 'no number', reason: 'dark' })
    expect(estimateGlow(reading(colour(1, 1)))).toMatchObject({ reason: 'above range' })
    const nonsense = { ...colour(0.1, 0.03), mean: [0.5, Number.NaN, 0] as const }
    expect(estimateGlow(reading(nonsense))).toMatchObject({ reason: 'bad input' })
    const card = { ...CARD, logGains: [0, Number.NaN, 0] as const }
    expect(estimateGlow(reading(seen(1173), { balance: card }))).toMatchObject({
      reason: 'bad input',
    })
    const levels = {
      kind: 'single',
      curveId: 'a',
      space: 'srgb',
      storedLevels: [0.5, Number.NaN, 0],
    } as const
    expect(estimateGlow(reading(seen(1173), { linearity: levels }))).toMatchObject({
      reason: 'bad input',
    })
    const window = { id: 'glass', lnGreenOverRed: Number.NaN, standardUncertainty: 0.01 } as const
    expect(estimateGlow(reading(seen(1173), { window }))).toMatchObject({ reason: 'bad input' })
    for (const temperatureK of [Number.NaN, Number.POSITIVE_INFINITY])
      expect(
        estimateGlow(reading(seen(1173), { references: [salt(0, { temperatureK })] })),
      ).toMatchObject({ reason: 'bad input' })
  })

  test('a thin glow with halved colour gets no narrow interval', () => {
    const quality = { ...reading(seen(1173)).quality, glowWidthPixels: 5, chromaSubsampled: true }
    const thin = temperature(reading(seen(1173), { quality, references: [salt()] }))
    const wide = temperature(reading(seen(1173), { references: [salt()] }))
    expect(thin.expandedUncertaintyK).toBeGreaterThan(5 * wide.expandedUncertaintyK)
    expect(thin.dominant).toBe('thin glow')
  })
})

describe('both sides of a limit', () => {
  const quality = reading(seen(1173)).quality
  const kind = (change: Parameters<typeof reading>[1]) =>
    estimateGlow(reading(seen(1173), change)).kind

  test('of clipped pixels is a hundredth, of green at the floor a twentieth', () => {
    const clipped = (clippedShare: number) => kind({ quality: { ...quality, clippedShare } })
    expect([0.0097, 0.0103].map(clipped)).toEqual(['temperature', 'no number'])
    const dark = (share: number) => kind({ quality: { ...quality, floorShare: [0, share, 0.9] } })
    expect([0.048, 0.052].map(dark)).toEqual(['temperature', 'below range'])
  })

  test('of darkness is red of three standard uncertainties', () => {
    const { mean } = seen(1173)
    const noisy = (times: number) => {
      const glow = colour(mean[1] / mean[0], mean[2] / mean[0], 1 / times)
      const estimate = estimateGlow(reading(glow))
      return estimate.kind === 'no number' ? estimate.reason : 'light'
    }
    expect([2.9, 3.1].map(noisy)).toEqual(['dark', 'light'])
  })

  test('of heat is where the locus is known to, 3200 K', () => {
    const surface = { ...STEEL, standardUncertainty: 0 }
    const references = [2400, 2800].map((t) => reference(t, 5, seen(t), { surface }))
    const at = (t: number) => {
      const estimate = estimateGlow(reading(seen(t), { references, surface }))
      return estimate.kind === 'no number' ? estimate.reason : estimate.kind
    }
    expect([3100, 3300].map(at)).toEqual(['temperature', 'above range'])
  })

  test('of an infrared leak is one of 1e-4 of the visible, surely passed', () => {
    const { mean } = seen(1173)
    const bluer = (times: number) =>
      temperature(reading(colour(mean[1] / mean[0], (times * mean[2]) / mean[0])))
    const told = (times: number) =>
      bluer(times).findings.some(({ code }) => code === 'infrared leak')
    let [without, withLeak] = [1, 3.5]
    for (let step = 0; step < 9; step++) {
      const middle = (without + withLeak) / 2
      if (told(middle)) withLeak = middle
      else without = middle
    }
    expect([told(without), told(withLeak)]).toEqual([false, true])
    for (const times of [without, withLeak])
      expect(bluer(times).leak.low95 / 1e-4).toBeCloseTo(1, 1)
  })
})

describe('a colour off the locus', () => {
  test('more blue than the visible allows speaks for infrared, and widens the interval', () => {
    const glow = seen(1173)
    const blue = glow.mean[2] * 3.5
    const estimate = estimateGlow(
      reading({ ...glow, mean: [glow.mean[0], glow.mean[1], blue] as const }),
    )
    expect(estimate.findings.map(({ code }) => code)).toContain('infrared leak')
  })

  test('a known heat makes the test sharper: a leak it has seen too is no tint', () => {
    const leaky = (kelvin: number) => {
      const glow = seen(kelvin)
      return { ...glow, mean: [glow.mean[0], glow.mean[1], glow.mean[2] * 1.6] as const }
    }
    const references = [reference(1073.6, 6, leaky(1073.6))]
    expect(temperature(reading(leaky(1173), { references })).offLocus.verdict).toBe('on the locus')
    const clean = [salt()]
    expect(temperature(reading(leaky(1173), { references: clean })).offLocus.verdict).toBe(
      'too blue',
    )
  })

  test('blue at the floor cannot be tested', () => {
    const quality = { ...reading(seen(1173)).quality, floorShare: [0, 0, 0.9] as const }
    expect(temperature(reading(seen(1173), { quality })).offLocus.verdict).toBe('not testable')
  })
})
