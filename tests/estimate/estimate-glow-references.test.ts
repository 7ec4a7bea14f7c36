import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import type { KnownHeatReference } from '../../src/estimate/types.ts'
import { expectClose } from '../close-to.ts'
import { reading, reference, salt, seen, temperature } from './inputs.ts'

describe('references', () => {
  test('turn an unusual camera right', () => {
    const glow = seen(1173, 1.5)
    const before = temperature(reading(glow))
    const after = temperature(reading(glow, { references: [salt(1.5)] }))
    expect(before.temperatureK - 1173).toBeGreaterThan(60)
    // What the filter may leak adds a few kelvin to the 6 K that the camera alone takes.
    expect(Math.abs(after.temperatureK - 1173)).toBeLessThan(8)
    expect(after.expandedUncertaintyK).toBeLessThan(before.expandedUncertaintyK / 3)
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

  test('that fit hardly ever widen the interval', () => {
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
          // One that fits may yet speak for more of a leak: two at 1000 K of a camera one standard
          // deviation off the mean widen by 1.11 times at most (200 pairs), others not at all.
          expect(widths[1]!).toBeLessThanOrEqual(widths[0]! * 1.15)
          expect(widths[2]!).toBeLessThanOrEqual(widths[1]! * 1.15)
        },
      ),
      { numRuns: 25 },
    )
  })

  test('that contradict each other are named and widen the interval', () => {
    const agreeing = temperature(reading(seen(1173), { references: [salt()] }))
    const contradicting = temperature(
      reading(seen(1173), {
        references: [
          salt(),
          reference(1073.6, 6, seen(1150), { id: 'wrong', takenAt: '2001-05-02T12:00:00Z' }),
        ],
      }),
    )
    const conflicts = contradicting.findings.filter(({ code }) => code === 'reference conflicts')
    expect(conflicts.length).toBe(2)
    expect(contradicting.expandedUncertaintyK).toBeGreaterThan(2 * agreeing.expandedUncertaintyK)
  })

  test('of a salt that beside a lamp more likely was another one are named, and both fit the interval', () => {
    // Roberts 1924: sodium chloride 800.4, sodium sulfate 884.7 °C.
    const lamp = reference(2700, 25, seen(2700), { id: 'lamp', group: 'lamp' })
    const labelled = (melts: number, times: number) =>
      Array.from({ length: times }, (_, i) =>
        reference(1157.85, 6, seen(melts), { id: `salt ${i}` }),
      )
    const read = (melts: number, times = 1) =>
      temperature(reading(seen(1173), { references: [...labelled(melts, times), lamp] }))
    const right = read(1157.85)
    expect(right.findings.map(({ code }) => code)).not.toContain('reference conflicts')
    // Photographed twice it is no surer which salt it was.
    for (const times of [1, 2]) {
      const wrong = read(1073.55, times)
      expect(wrong.findings).toContainEqual(
        expect.objectContaining({
          code: 'reference conflicts',
          otherSalt: expect.objectContaining({ id: 'sodium-chloride' }),
        }),
      )
      expect(wrong.interval95K[0]).toBeLessThan(1173)
      expect(wrong.interval95K[1]).toBeGreaterThan(1173)
    }
    // By itself nothing speaks against it.
    const only = temperature(reading(seen(1173), { references: labelled(1073.55, 1) }))
    expect(only.findings.map(({ code }) => code)).not.toContain('reference conflicts')
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

  test('of one melt, however often photographed, count as one melt', () => {
    const shots = (minutes: number) =>
      [0, 1, 2].map((i) =>
        salt(0, {
          id: `${i}`,
          takenAt: new Date(Date.UTC(2001, 4, 1, 12, i * minutes)).toISOString(),
        }),
      )
    const width = (references: KnownHeatReference[]) =>
      temperature(reading(seen(1073.6), { references })).standardUncertaintyK
    const one = width([salt()])
    // What the photos add is their own noise and drift, not the melt's 6 K (GUM 5.2.2).
    expect(width(shots(1))).toBeGreaterThan(0.93 * one)
    expect(width(shots(60))).toBeLessThan(0.85 * one)
  })
})
