import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { estimateGlow } from '../../src/estimate/estimate-glow.ts'
import type { GlowInput, KnownHeatReference } from '../../src/estimate/types.ts'
import { expectClose } from '../close-to.ts'
import { CARD, colour, reading, reference, salt, seen, temperature } from './inputs.ts'

describe('a reading without references', () => {
  test('reads the mean camera right and is honest about all others', () => {
    const at900C = temperature(reading(seen(1173)))
    expect(Math.abs(at900C.temperatureK - 1173)).toBeLessThan(8)
    // About +-130 K at 900 °C and +-175 K at 730 °C, from simulations with measured cameras.
    expect(at900C.expandedUncertaintyK).toBeGreaterThan(100)
    expect(at900C.expandedUncertaintyK).toBeLessThan(140)
    expect(at900C.dominant).toBe('camera')
    const at730C = temperature(reading(seen(1003)))
    expect(at730C.expandedUncertaintyK).toBeGreaterThan(130)
    expect(at730C.expandedUncertaintyK).toBeLessThan(190)
  })

  test('advises a known heat near by and foretells what it brings', () => {
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

describe('references', () => {
  test('turn an unusual camera right', () => {
    const glow = seen(1173, 1.5)
    const before = temperature(reading(glow))
    const after = temperature(reading(glow, { references: [salt(1.5)] }))
    expect(before.temperatureK - 1173).toBeGreaterThan(60)
    expect(Math.abs(after.temperatureK - 1173)).toBeLessThan(6)
    expect(after.expandedUncertaintyK).toBeLessThan(before.expandedUncertaintyK / 4)
  })

  test('of the same surface share its slope, which then nearly cancels', () => {
    const same = temperature(reading(seen(1173), { references: [salt()] }))
    const other = { id: 'brick', lnGreenOverRed: 0, standardUncertainty: 0.03 }
    const apart = temperature(reading(seen(1173), { references: [salt(0, { surface: other })] }))
    const share = (e: typeof same) =>
      e.budget.find(({ term }) => term === 'surface')!.standardUncertaintyK
    expect(share(same)).toBeLessThan(0.4 * share(apart))
  })

  test('read by one recovered curve share what it left open, but not what is each photo’s own', () => {
    const byCurve = (curveId: string) =>
      ({
        kind: 'sweep',
        curveId,
        standardUncertaintyGreen: 0.03,
        standardUncertaintyBlue: 0.03,
        ownUncertainty: 0.01,
      }) as const
    const curveTerm = (ofReference: string) =>
      temperature(
        reading(seen(1173), {
          linearity: byCurve('a'),
          references: [salt(0, { linearity: byCurve(ofReference) })],
        }),
      ).budget.find(({ term }) => term === 'tone curve')!.standardUncertaintyK
    // What ln(G/R) does to this reading: with a curve of its own, and nothing beside it.
    const alone = (ownUncertainty: number) =>
      temperature(
        reading(seen(1173), {
          linearity: { ...byCurve('a'), standardUncertaintyGreen: 0, ownUncertainty },
          references: [salt()],
        }),
      ).budget.find(({ term }) => term === 'tone curve')!.standardUncertaintyK
    // GUM 5.1.2 and 5.2.2: what is shared nearly cancels, what is own adds by squares (JCGM 100).
    expect(curveTerm('a')).toBeGreaterThan(1.1 * alone(0.01))
    expect(curveTerm('a')).toBeLessThan(1.5 * alone(0.01))
    expect(curveTerm('b')).toBeGreaterThan(1.1 * alone(Math.hypot(0.03, 0.01)))
    expect(curveTerm('b')).toBeLessThan(1.5 * alone(Math.hypot(0.03, 0.01)))
  })

  test('at another level of one recovered curve share its error only as far as it is the same', () => {
    const byCurve = (...greenErrors: number[]) =>
      ({
        kind: 'sweep',
        curveId: 'a',
        standardUncertaintyGreen: Math.hypot(...greenErrors),
        standardUncertaintyBlue: 0.03,
        greenErrors,
      }) as const
    const curveTerm = (...ofReference: number[]) =>
      temperature(
        reading(seen(1173), {
          linearity: byCurve(0.03, 0),
          references: [salt(0, { linearity: byCurve(...ofReference) })],
        }),
      ).budget.find(({ term }) => term === 'tone curve')!.standardUncertaintyK
    // GUM 5.2.2: correlated by +1, 0 and -1.
    expect(curveTerm(0.03, 0)).toBeLessThan(0.5 * curveTerm(0, 0.03))
    expect(curveTerm(-0.03, 0)).toBeGreaterThan(1.2 * curveTerm(0, 0.03))
  })

  test('do not depend on their order', () => {
    const heats = fc.array(
      fc.record({
        kelvin: fc.double({ min: 1000, max: 2700, noNaN: true }),
        u: fc.double({ min: 2, max: 30, noNaN: true }),
        offset: fc.double({ min: -0.5, max: 0.5, noNaN: true }),
      }),
      { minLength: 2, maxLength: 4 },
    )
    fc.assert(
      fc.property(heats, (list) => {
        const references = list.map(({ kelvin, u, offset }, i) =>
          reference(kelvin, u, seen(kelvin, offset), { id: `${i}` }),
        )
        const one = temperature(reading(seen(1173), { references }))
        const other = temperature(reading(seen(1173), { references: [...references].reverse() }))
        expectClose(one.temperatureK, other.temperatureK, 1e-5)
        expectClose(one.standardUncertaintyK, other.standardUncertaintyK, 1e-4)
      }),
      { numRuns: 15 },
    )
  })

  test('that fit never widen the interval', () => {
    const heat = fc.record({
      kelvin: fc.double({ min: 1000, max: 2700, noNaN: true }),
      u: fc.double({ min: 2, max: 60, noNaN: true }),
    })
    fc.assert(
      fc.property(
        heat,
        heat,
        fc.double({ min: -1, max: 1, noNaN: true }),
        (first, second, offset) => {
          const made = [first, second].map(({ kelvin, u }, i) =>
            reference(kelvin, u, seen(kelvin, offset), { id: `${i}` }),
          )
          const widths = [0, 1, 2].map(
            (n) =>
              temperature(reading(seen(1173, offset), { references: made.slice(0, n) }))
                .expandedUncertaintyK,
          )
          expect(widths[1]!).toBeLessThanOrEqual(widths[0]! * 1.01)
          expect(widths[2]!).toBeLessThanOrEqual(widths[1]! * 1.01)
        },
      ),
      { numRuns: 25 },
    )
  })

  test('that contradict each other are named and widen the interval', () => {
    const agreeing = temperature(reading(seen(1173), { references: [salt()] }))
    const contradicting = temperature(
      reading(seen(1173), {
        references: [salt(), reference(1073.6, 6, seen(1150), { id: 'wrong' })],
      }),
    )
    const conflicts = contradicting.findings.filter(({ code }) => code === 'reference conflicts')
    expect(conflicts.length).toBe(2)
    expect(contradicting.expandedUncertaintyK).toBeGreaterThan(2 * agreeing.expandedUncertaintyK)
  })

  test('of another camera, path or white-balance state do not count and are named', () => {
    const changes: [Partial<KnownHeatReference>, string][] = [
      [{ cameraId: 'other' }, 'other camera'],
      [{ channels: 'camera' }, 'other channels'],
      [{ balanceState: { kind: 'lamp', colourTemperatureK: null } }, 'other white balance'],
      [{ temperatureK: 500 }, 'out of range'],
    ]
    const plain = temperature(reading(seen(1173)))
    for (const [change, status] of changes) {
      const estimate = temperature(reading(seen(1173), { references: [salt(0, change)] }))
      expect(estimate.referencesUsed[0]!.status).toBe(status)
      expect(estimate.temperatureK).toBe(plain.temperatureK)
      expect(estimate.interval95K).toEqual(plain.interval95K)
    }
  })

  test('grow old', () => {
    const estimate = temperature(
      reading(seen(1173), { references: [salt(0, { takenAt: '1999-01-01T00:00:00Z' })] }),
    )
    expect(estimate.findings.map(({ code }) => code)).toContain('reference old')
  })
})

describe('surface and window', () => {
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
    const kelvins = [0.08, 0.1, 0.12, 0.2, 0.3, 0.45].map(
      (green) => temperature(reading(colour(green, 0.04))).temperatureK,
    )
    for (const [i, kelvin] of kelvins.entries())
      if (i > 0) expect(kelvin).toBeGreaterThan(kelvins[i - 1]!)
  })
})
