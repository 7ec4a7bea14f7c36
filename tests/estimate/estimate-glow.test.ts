import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { estimateGlow } from '../../src/estimate/estimate-glow.ts'
import type { GlowInput } from '../../src/estimate/types.ts'
import { expectClose } from '../close-to.ts'
import { CARD, colour, reading, reference, STEEL, salt, seen, temperature } from './inputs.ts'

describe('a reading without references', () => {
  test('reads the mean camera right and is honest about all others', () => {
    const at900C = temperature(reading(seen(1173)))
    // A camera that may leak is taken for one that does, a little.
    expect(Math.abs(at900C.temperatureK - 1173)).toBeLessThan(12)
    // About +-130 K at 900 °C and +-175 K at 730 °C, from simulations with measured cameras.
    expect(at900C.expandedUncertaintyK).toBeGreaterThan(100)
    expect(at900C.expandedUncertaintyK).toBeLessThan(140)
    expect(at900C.dominant).toBe('camera')
    const at730C = temperature(reading(seen(1003)))
    expect(at730C.expandedUncertaintyK).toBeGreaterThan(110)
    expect(at730C.expandedUncertaintyK).toBeLessThan(190)
  })

  test('advises a known heat near by and predicts what it brings', () => {
    const before = temperature(reading(seen(1173)))
    expect(before.advice.code).toBe('known heat')
    expect(Math.abs(before.advice.nearK! - 1173)).toBeLessThan(60)
    const known = reference(before.advice.nearK!, 4, seen(before.advice.nearK!))
    const after = temperature(reading(seen(1173), { references: [known] }))
    expect(after.standardUncertaintyK).toBeLessThan(
      1.6 * before.advice.predictedStandardUncertaintyK,
    )
    expect(before.advice.predictedStandardUncertaintyK).toBeLessThan(
      1.6 * after.standardUncertaintyK,
    )
  })

  test('needs a white balance that stays before references help', () => {
    const automatic = temperature(
      reading(seen(1173), {
        balanceState: { kind: 'automatic', colourTemperatureK: null },
        references: [salt()],
      }),
    )
    expect(automatic.advice.code).toBe('set white balance')
    expect(automatic.referencesUsed[0]!.status).toBe('white balance not fixed')
    expect(automatic.expandedUncertaintyK).toBeGreaterThan(
      temperature(reading(seen(1173))).expandedUncertaintyK,
    )
  })

  test('says so when the grey card is missing, and widens', () => {
    const without = temperature(reading(seen(1173), { balance: null }))
    expect(without.findings.map(({ code }) => code)).toContain('no grey reference')
    expect(without.standardUncertaintyK).toBeGreaterThan(
      temperature(reading(seen(1173))).standardUncertaintyK,
    )
  })
})

describe('surface and window', () => {
  test('what is not known of a surface counts as much as the two-colour formula says', () => {
    const references = [1073, 1150, 1200, 1357].map((t) => reference(t, 8, seen(t)))
    const surface = { ...STEEL, piece: 'another', standardUncertainty: 0.12 }
    const found = temperature(reading(seen(1173), { references, surface }))
    // u(T) = T^2 u(ln e) / (c2 (1/550 nm - 1/650 nm)), Wien; the known heats' own piece adds its 0.03.
    const perUnit = found.temperatureK ** 2 / (1.4388e7 * (1 / 550 - 1 / 650))
    const own = found.budget.find(({ term }) => term === 'surface')!.standardUncertaintyK
    expectClose(own, perUnit * Math.hypot(0.12, 0.03), 0.01)
  })

  test('a surface brighter in green reads hot by the two-colour formula', () => {
    const plain = temperature(reading(seen(1173)))
    const steep = temperature(
      reading(seen(1173), {
        surface: { id: 'steep', lnGreenOverRed: 0.05, standardUncertainty: 0.03 },
      }),
    )
    expect(steep.colourTemperatureK).toBe(plain.colourTemperatureK)
    // 1/T = 1/Tc + ln(eG/eR) / (c2 (1/550 nm - 1/650 nm)), c2 = 0.014387768775 m K.
    const scale = 0.014387768775 * (1e9 / 550 - 1e9 / 650)
    const expected = 1 / (1 / steep.colourTemperatureK + 0.05 / scale)
    expectClose(steep.temperatureK, expected, 1e-12)
  })

  test('a window that dims green more makes the reading hotter, and adds its own term', () => {
    const window = { id: 'amber', lnGreenOverRed: -0.05, standardUncertainty: 0.02 }
    const behind = temperature(reading(seen(1173), { window }))
    expect(behind.temperatureK).toBeGreaterThan(behind.colourTemperatureK)
    expect(behind.budget.map(({ term }) => term)).toContain('window')
  })
})

describe('the estimate as data', () => {
  const inputs = fc.record({
    kelvin: fc.double({ min: 950, max: 2800, noNaN: true }),
    offset: fc.double({ min: -2, max: 2, noNaN: true }),
    withSalt: fc.boolean(),
  })
  const make = ({
    kelvin,
    offset,
    withSalt,
  }: {
    kelvin: number
    offset: number
    withSalt: boolean
  }) => reading(seen(kelvin, offset), { references: withSalt ? [salt(offset)] : [] })

  test('is plain JSON and computed again from the stored input to the last digit', () => {
    fc.assert(
      fc.property(inputs, (drawn) => {
        const input = make(drawn)
        const estimate = estimateGlow(input)
        expect(JSON.parse(JSON.stringify(estimate))).toEqual(estimate)
        const again = estimateGlow(JSON.parse(JSON.stringify(input)) as GlowInput)
        expect(again).toEqual(estimate)
      }),
      { numRuns: 20 },
    )
  })

  test('has a budget whose squares add up (JCGM 100:2008, eq. 10) and an interval around the value', () => {
    fc.assert(
      fc.property(inputs, (drawn) => {
        const estimate = estimateGlow(make(drawn))
        if (estimate.kind !== 'temperature') return
        const sum = estimate.budget.reduce((s, { standardUncertaintyK: u }) => s + u * u, 0)
        expectClose(sum, estimate.standardUncertaintyK ** 2, 1e-6)
        expect(estimate.budget[0]!.term).toBe(estimate.dominant)
        const [low, high] = estimate.interval95K
        expect(low).toBeLessThan(estimate.temperatureK)
        expect(high).toBeGreaterThan(estimate.temperatureK)
      }),
      { numRuns: 20 },
    )
  })

  test('does not depend on the exposure or on a common factor of the gains', () => {
    const glow = seen(1250, 0.3)
    const brighter = {
      mean: glow.mean.map((v) => v * 1.7) as unknown as typeof glow.mean,
      covariance: glow.covariance.map((row) =>
        row.map((v) => v * 1.7 ** 2),
      ) as unknown as typeof glow.covariance,
    }
    const gained = { ...CARD, logGains: [0.4, 0.4, 0.4] as const }
    const one = temperature(reading(glow))
    expectClose(temperature(reading(brighter)).temperatureK, one.temperatureK, 1e-9)
    expectClose(
      temperature(reading(glow, { balance: gained })).temperatureK,
      one.temperatureK,
      1e-9,
    )
  })

  test('rises with the share of green', () => {
    // With the blue that a glow of this green has: blue alone can speak for a leak.
    const colours = [
      [0.08, 0.04],
      [0.1, 0.037],
      [0.12, 0.035],
      [0.2, 0.037],
      [0.3, 0.06],
      [0.45, 0.14],
    ] as const
    const kelvins = colours.map(
      ([green, blue]) => temperature(reading(colour(green, blue))).temperatureK,
    )
    for (const [i, kelvin] of kelvins.entries())
      if (i > 0) expect(kelvin).toBeGreaterThan(kelvins[i - 1]!)
  })
})
