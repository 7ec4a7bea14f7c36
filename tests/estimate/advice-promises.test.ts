import { describe, expect, test } from 'vitest'
import type { Advice, GlowInput, TemperatureEstimate } from '../../src/estimate/types.ts'
import { CARD, colour, DAYLIGHT, reading, reference, STEEL, seen, temperature } from './inputs.ts'

const KNOWN = { ...STEEL, standardUncertainty: 0 }
const heats = (change = {}) =>
  [1073, 1123, 1173, 1223, 1273].map((t) =>
    reference(t, 0.5, seen(t), { surface: KNOWN, ...change }),
  )
const read = (change: Partial<GlowInput>, glow = seen(1173)) =>
  temperature(reading(glow, { surface: KNOWN, references: heats(), ...change }))

/** What was promised over what the step then brings. */
const kept = (before: TemperatureEstimate, after: TemperatureEstimate) =>
  before.advice.predictedStandardUncertaintyK / after.standardUncertaintyK

describe('advice names what leaves most open, and keeps its promise', () => {
  const expectKept = (
    code: Advice['code'],
    before: TemperatureEstimate,
    after: TemperatureEstimate,
    within: number,
  ) => {
    expect(before.advice).toMatchObject({ code, nearK: null })
    expect(before.advice.predictedStandardUncertaintyK).toBeLessThan(
      0.9 * before.standardUncertaintyK,
    )
    expect(kept(before, after)).toBeGreaterThan(1 - within)
    expect(kept(before, after)).toBeLessThan(1 + within)
  }

  test('more light, a tenth of the noise’s variance', () => {
    const { mean } = seen(1173)
    const noisy = (relative: number) =>
      read({}, colour(mean[1] / mean[0], mean[2] / mean[0], relative))
    expectKept('more light', noisy(0.04), noisy(0.04 / Math.sqrt(10)), 0.15)
  })

  test('the cause of a tint', () => {
    const { mean } = seen(1173)
    const tinted = read({}, colour(mean[1] / mean[0], mean[2] / mean[0] + 0.03))
    expect(tinted.offLocus.verdict).toBe('too blue')
    expectKept('find cause of tint', tinted, read({}), 0.5)
  })

  test('straight light, or a known heat at the level of the reading, which leaves a hundredth of it', () => {
    const single = (red: number): GlowInput['linearity'] => ({
      kind: 'single',
      curveId: 'of a photo',
      storedLevels: [red, 0.27, 0.1],
      space: 'display-p3',
    })
    const unmatched = read({
      linearity: single(0.73),
      references: heats({ linearity: { kind: 'linear' } }),
    })
    expectKept('sweep or raw', unmatched, read({}), 0.5)
    // Without a known heat none can be matched.
    const alone = temperature(reading(seen(1173), { linearity: single(0.73), surface: KNOWN }))
    expect(alone.advice.code).not.toBe('matched level')
  })
})

describe('a known heat', () => {
  test('is advised near the reading where nothing is known, and a second one where one is', () => {
    const first = temperature(reading(seen(1173)))
    expect(first.advice.code).toBe('known heat')
    const far = reference(1357.8, 20, seen(1357.8))
    const second = temperature(reading(seen(1023), { references: [far] }))
    expect(second.advice.code).toBe('second known heat')
    expect(Math.abs(second.advice.nearK! - 1023)).toBeLessThan(60)
    expect(second.advice.predictedStandardUncertaintyK).toBeLessThan(second.standardUncertaintyK)
  })

  test('follows the reading: at 1350 K it is copper, at 1100 K a salt', () => {
    const near = (kelvin: number) => temperature(reading(seen(kelvin))).advice.nearK!
    expect(Math.abs(near(1350) - 1350)).toBeLessThan(40)
    expect(Math.abs(near(1100) - 1100)).toBeLessThan(60)
  })

  test('behind a slope of the surface is sought by the colour that it has there', () => {
    const steep = { ...STEEL, lnGreenOverRed: 0.1 }
    const { advice, temperatureK } = temperature(reading(seen(1200), { surface: steep }))
    // 0.1 of ln(green/red) is some 35 K at 1200 K: the melt is near the true temperature.
    expect(Math.abs(advice.nearK! - temperatureK)).toBeLessThan(60)
  })
})

test('where the balance is free nothing else helps; where it is set and nobody tried it, trying comes first', () => {
  for (const kind of ['automatic', 'unknown'] as const) {
    const free = read({ balanceState: { kind, colourTemperatureK: null } })
    expect(free.advice).toMatchObject({ code: 'set white balance', nearK: null })
    expect(free.advice.predictedStandardUncertaintyK).toBeLessThan(free.standardUncertaintyK)
  }
  const preset = { kind: 'daylight', colourTemperatureK: null } as const
  const untried = read({ balanceState: preset, references: heats({ balanceState: preset }) })
  expect(untried.advice.code).toBe('try lock')
  // A card in the very picture needs no lock, raw pixels have no balance.
  const inPicture = { ...CARD, samePicture: true }
  for (const change of [{ balance: inPicture, balanceState: preset }, { balanceState: DAYLIGHT }])
    expect(read({ ...change, references: heats(change) }).advice.code).not.toBe('try lock')
})
