import { describe, expect, test } from 'vitest'
import {
  combineReferences,
  commonRefusal,
} from '../../../src/estimate/spectrum/several-references.ts'
import type { ModelFit, SpectrumTemperature } from '../../../src/estimate/spectrum/temperature.ts'
import type { SpectrumRefusal, SpectrumTerm } from '../../../src/estimate/spectrum/types.ts'
import { expectClose } from '../../close-to.ts'

const fitOf = (
  temperatureK: number,
  parts: Partial<Record<SpectrumTerm, number>>,
  lnGreenOverRed = 0,
): ModelFit => ({
  temperatureK,
  standardUncertaintyK: Math.hypot(...Object.values(parts)),
  interval95K: [0, 0],
  budget: Object.entries(parts).map(([term, standardUncertaintyK]) => ({
    term: term as SpectrumTerm,
    standardUncertaintyK,
  })),
  lnGreenOverRed,
})
const by = (...given: Parameters<typeof fitOf>) =>
  ({
    ok: true,
    ...fitOf(...given),
    withKnownSlope: fitOf(given[0] + 7, given[1]),
    betweenReferencesK: null,
    findings: [],
  }) as unknown as SpectrumTemperature
const termOf = ({ budget }: ModelFit, of: SpectrumTerm) =>
  budget.find(({ term }) => term === of)?.standardUncertaintyK ?? 0

describe('one temperature by several references', () => {
  test('is itself where there is one', () => {
    const one = by(1400, { 'lamp temperature': 10 })
    expect(combineReferences([one])).toBe(one)
  })

  test('has the smaller ± the more there are, by what each has for itself', () => {
    const own: SpectrumTerm[] = [
      'lamp temperature',
      'reference surface',
      'shape of response and surface',
      'stray light',
      'linearity',
      'another instrument',
    ]
    for (const term of own) {
      const mean = combineReferences([by(1400, { [term]: 10 }), by(1400, { [term]: 10 })])
      expectClose(mean.temperatureK, 1400, 1e-12)
      expectClose(mean.standardUncertaintyK, 10 / Math.SQRT2, 1e-9)
      expectClose(termOf(mean, term), 10 / Math.SQRT2, 1e-9)
      expect(mean.betweenReferencesK).toBe(0)
      expect(mean.findings).toEqual([])
    }
  })

  test('keeps what comes from the glow, which is the same with each', () => {
    for (const term of ['noise', 'surface', 'window', 'wavelength scale'] as const) {
      const parts = { [term]: 6, 'lamp temperature': 8 }
      const mean = combineReferences([by(1400, parts), by(1400, parts)])
      expectClose(termOf(mean, term), 6, 1e-9)
      expectClose(mean.standardUncertaintyK, Math.hypot(6, 8 / Math.SQRT2), 1e-9)
    }
  })

  test('leans to the surer one by the inverse squares, in 1/T', () => {
    // Far too near to each other to disagree.
    const mean = combineReferences([
      by(1400, { 'lamp temperature': 10 }, 0.05),
      by(1403, { 'lamp temperature': 20 }, 0.1),
    ])
    const u = [10 / 1400 ** 2, 20 / 1403 ** 2]
    const w = u.map((one) => one ** -2)
    const share = w[0]! / (w[0]! + w[1]!)
    expectClose(1 / mean.temperatureK, share / 1400 + (1 - share) / 1403, 1e-12)
    expectClose(mean.lnGreenOverRed, 0.05 * share + 0.1 * (1 - share), 1e-9)
    expectClose(mean.standardUncertaintyK, mean.temperatureK ** 2 / Math.sqrt(w[0]! + w[1]!), 1e-9)
    const [low, high] = mean.interval95K
    // k = 2, even in 1/T.
    expectClose((1 / low - 1 / high) / 4, mean.standardUncertaintyK / mean.temperatureK ** 2, 1e-9)
    expectClose((1 / low + 1 / high) / 2, 1 / mean.temperatureK, 1e-12)
    expect(mean.budget.map((one) => one.standardUncertaintyK)).toEqual(
      mean.budget.map((one) => one.standardUncertaintyK).toSorted((a, b) => b - a),
    )
  })

  test('tells all else of the surest', () => {
    const of = (kelvin: number, noise: number) => ({
      ...by(kelvin, { noise }),
      samples: kelvin,
    })
    for (const list of [
      [of(1403, 9), of(1400, 5)],
      [of(1400, 5), of(1403, 9)],
    ])
      expect(combineReferences(list).samples).toBe(1400)
  })

  test('is combined likewise with the slope for certain', () => {
    const { withKnownSlope } = combineReferences([
      by(1400, { 'lamp temperature': 10 }),
      by(1400, { 'lamp temperature': 10 }),
    ])
    expectClose(withKnownSlope.temperatureK, 1407, 1e-9)
  })

  describe('that differ', () => {
    const U = 5
    /** Two of one ±, so many of it apart; near 1400 K a kelvin is the same everywhere. */
    const apart = (times: number) =>
      combineReferences([
        by(1400 - (times * U) / 2, { 'lamp temperature': U }),
        by(1400 + (times * U) / 2, { 'lamp temperature': U }),
      ])

    test('by more than chance widen the ± to half of what they differ by', () => {
      // DerSimonian & Laird for two: between² = d²/2 - u², so that the mean's ± is d/2.
      const mean = apart(4)
      expectClose(mean.standardUncertaintyK, 2 * U, 0.01)
      expectClose(mean.betweenReferencesK!, U * Math.sqrt(7), 0.01)
      expectClose(termOf(mean, 'references'), U * Math.sqrt(7 / 2), 0.01)
      expectClose(termOf(mean, 'lamp temperature'), U / Math.SQRT2, 0.01)
    })

    test('are named where chance makes it once in 20', () => {
      const named = (times: number) => apart(times).findings.map(({ code }) => code)
      // Chi-squared of two is d²/2u²; mean 1 and standard deviation √2 for one degree: 3.77 is 2.75 u apart.
      expect(named(2.7)).toEqual([])
      expect(named(2.8)).toEqual(['references disagree'])
      const [finding] = apart(4).findings
      expect(finding).toMatchObject({ spreadK: apart(4).betweenReferencesK })
    })

    test('are three or more by as many degrees', () => {
      const three = (times: number) =>
        combineReferences(
          [-1, 0, 1].map((k) => by(1400 + k * times * U, { 'lamp temperature': U })),
        ).findings.map(({ code }) => code)
      // 2 times² over mean 2 and standard deviation 2 of two degrees: 5.92 is 1.72 u apart.
      expect(three(1.69)).toEqual([])
      expect(three(1.75)).toEqual(['references disagree'])
    })

    test('by less than their ± do not', () => {
      const mean = apart(1)
      expect(mean.betweenReferencesK).toBe(0)
      expect(termOf(mean, 'references')).toBe(0)
    })
  })

  test('as unsure as it is hot has an upper end all the same', () => {
    const parts = { noise: 900 }
    const mean = combineReferences([by(1400, parts), by(1400, parts)])
    expect(mean.interval95K[1]).toBeGreaterThan(1e5)
    expect(Number.isFinite(mean.interval95K[1])).toBe(true)
  })
})

describe('a refusal by one of several references', () => {
  const refused = (code: SpectrumRefusal['code'], more = {}): SpectrumRefusal => ({
    ok: false,
    code,
    ...more,
  })
  const fine = by(1400, { noise: 5 })
  const stranger = refused('shape', { findings: [{ code: 'another instrument', signs: [] }] })

  test('counts against the glow, wherever it stands', () => {
    expect(commonRefusal([fine, refused('shape')])).toMatchObject({ code: 'shape' })
    expect(commonRefusal([refused('lines'), fine])).toMatchObject({ code: 'lines' })
    expect(commonRefusal([fine])).toBeNull()
  })

  test('does not where the reference shares no wavelengths, or is another instrument’s', () => {
    expect(commonRefusal([fine, refused('no common wavelengths')])).toBeNull()
    expect(commonRefusal([stranger, fine])).toBeNull()
  })

  test('is told where none is left', () => {
    expect(commonRefusal([stranger, refused('no common wavelengths')])).toBe(stranger)
    expect(commonRefusal([refused('no common wavelengths'), refused('slope')])).toMatchObject({
      code: 'slope',
    })
  })
})
