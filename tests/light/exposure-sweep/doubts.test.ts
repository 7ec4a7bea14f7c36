import { describe, expect, test } from 'vitest'
import { averagedKinds } from '../../../src/light/exposure-sweep/averaged-kinds.ts'
import { doubtful } from '../../../src/light/exposure-sweep/doubts.ts'
import { equalCodeRatio } from '../../../src/light/exposure-sweep/equal-code.ts'
import { neededStops } from '../../../src/light/exposure-sweep/needed-stops.ts'
import type { FrameLevels } from '../../../src/light/exposure-sweep/recover-response.ts'
import { bendAt } from '../../../src/light/exposure-sweep/response.ts'
import { BASIS } from '../../../src/light/exposure-sweep/response-prior.ts'
import { kindOpen } from '../../../src/light/exposure-sweep/sweep-result.ts'

/** A sweep in whole stops whose red follows the exposure. */
const frames = Array.from(
  { length: 5 },
  (_, k): FrameLevels => ({
    lnExposure: -k * Math.LN2,
    lnGain: [0, 0, 0],
    time: k / 4,
    nominal: [-1 - k * Math.LN2, -2 - k * Math.LN2, -4],
    uncertainty: [0.01, 0.01, 0.01],
  }),
)

type Choice = Parameters<typeof doubtful>[0]
type Place = ReturnType<Parameters<typeof doubtful>[2]>

const CALM: Place = { shapeLn: 0, totalLn: 0, varianceRatio: 0, expectedLn: 0.01, unevenLn: 0 }

function reasonOf(
  better: Record<string, unknown> = {},
  {
    choice = {},
    place = {},
    usable = {},
  }: { choice?: object; place?: Partial<Place>; usable?: object } = {},
) {
  const sound = {
    better: {
      response: { kind: 'channel', basis: BASIS, coefficients: flat(0) },
      exposureErrors: [0, 0.01, -0.01, 0, 0],
      drift: [0, 0, 0],
      misfit: 1,
      ...better,
    },
    odd: null,
    kindSpread: 0,
    probability: 0.9,
    byKind: { channel: 0.9, ratio: 0.1 },
    ...choice,
  } as unknown as Choice
  const all = {
    used: [0, 1, 2, 3, 4],
    codes: frames.map((_, k) => ({ code: [0.9 - 0.1 * k, 0.3, 0.1] })),
    data: frames,
    repeated: true,
    ...usable,
  } as unknown as Parameters<typeof doubtful>[1]
  return doubtful(sound, all, () => ({ ...CALM, ...place }))
}
const flat = (value: number) => new Array<number>(BASIS.size).fill(value)

describe('doubts about a sweep', () => {
  test('there are none about a sound one', () => {
    expect(reasonOf()).toBeNull()
  })

  test('a stated exposure that is off by more than rounding', () => {
    const off = (lnError: number) => reasonOf({ exposureErrors: [0, 0, lnError, 0, 0] })
    expect(off(0.054)).toBeNull()
    expect(off(0.056)).toMatchObject({
      reason: 'exposures disagree',
      values: { lnError: 0.056, frame: 2 },
    })
    expect(off(-0.056)?.reason).toBe('exposures disagree')
    // One that the curve does not rely on may be.
    const left = { choice: { odd: 2 } }
    expect(reasonOf({ exposureErrors: [0, 0, 0.3, 0, 0] }, left)).toBeNull()
  })

  test('red that does not follow its exposure', () => {
    const stuck = frames.map((frame) => ({ ...frame, nominal: [-2, -3, -4] }))
    expect(reasonOf({}, { usable: { data: stuck } })).toMatchObject({
      reason: 'exposures disagree',
      values: { slope: 0 },
    })
  })

  test('a contrast that no camera has', () => {
    const line = Array.from({ length: BASIS.size }, (_, i) => i)
    // Nominal ln light in the middle of the scale, where contrast is told.
    const unit = bendAt({ basis: BASIS, coefficients: line }, -3.5).slope
    /** Light goes with the power 1/contrast of the nominal light. */
    const withContrast = (contrast: number) =>
      reasonOf({
        response: {
          kind: 'channel',
          basis: BASIS,
          coefficients: line.map((i) => (i * (1 / contrast - 1)) / unit),
        },
      })
    for (const usual of [0.31, 1, 3.9]) expect(withContrast(usual)).toBeNull()
    for (const none of [0.29, 4.1]) {
      const doubt = withContrast(none)
      expect(doubt?.reason).toBe('exposures disagree')
      expect(doubt?.values.contrast).toBeCloseTo(none, 6)
    }
  })

  test('a glow that changed while it was swept, where a repeated frame shows it', () => {
    const changed = (ln: number, repeated = true) =>
      reasonOf({ drift: [ln, 0, 0] }, { usable: { repeated } })?.reason
    expect(changed(0.79)).toBeUndefined()
    expect(changed(0.81)).toBe('glow changed')
    expect(changed(-0.81)).toBe('glow changed')
    expect(changed(0.81, false)).toBeUndefined()
  })

  test('frames that no curve goes through', () => {
    expect(reasonOf({ misfit: 3.9 })).toBeNull()
    expect(reasonOf({ misfit: 4.1 })).toMatchObject({
      reason: 'does not fit',
      values: { misfit: 4.1 },
    })
  })

  test('tones that depend on the place: clearly, surely, and by more than noise', () => {
    const local: Partial<Place> = {
      shapeLn: 0.0155,
      varianceRatio: 10.4,
      totalLn: 0.0164,
      expectedLn: 0.01,
    }
    const of = (change: Partial<Place> = {}) => reasonOf({}, { place: { ...local, ...change } })
    expect(of()?.reason).toBe('local tone mapping')
    expect(of({ shapeLn: 0.0145 })).toBeNull()
    expect(of({ varianceRatio: 9.6 })).toBeNull()
    expect(of({ totalLn: 0.0156 })).toBeNull()
    // An uneven glow lies on the joints of its curve and may do so by more.
    expect(of({ shapeLn: 0.02, unevenLn: 0.026 })).toBeNull()
    expect(of({ shapeLn: 0.02, unevenLn: 0.024 })?.reason).toBe('local tone mapping')
  })

  test('two kinds of curve that lead to two temperatures', () => {
    const of = (kindSpread: number) => reasonOf({}, { choice: { kindSpread } })
    expect(of(0.079)).toBeNull()
    expect(of(0.081)).toMatchObject({
      reason: 'curve kind undecided',
      values: { probability: 0.9, channel: 0.9, ratio: 0.1, brightestCode: 0.9 },
    })
  })
})

describe('equal codes', () => {
  test('give the ratio of the light where red and green read alike, whatever the curve', () => {
    // Green is 1 below red in nominal ln light at the same exposure: 1 / ln 2 stops.
    expect(equalCodeRatio(frames, 1)).toBeCloseTo(-1, 12)
    // A gamma of 2.2 bends both alike: the exposure of the equal code stays.
    const bent = frames.map((frame) => ({
      ...frame,
      nominal: [frame.nominal[0]! / 2.2, frame.nominal[1]! / 2.2, null] as const,
    }))
    expect(equalCodeRatio(bent, 1)).toBeCloseTo(-1, 12)
    expect(equalCodeRatio(bent, 2)).toBeNull()
  })

  test('count the balance that moved from photo to photo', () => {
    const moved = frames.map((frame) => ({ ...frame, lnGain: [0.2, 0, 0] as const }))
    expect(equalCodeRatio(moved, 1)).toBeCloseTo(-0.8, 12)
    const green = frames.map((frame) => ({ ...frame, lnGain: [0, 0.2, 0] as const }))
    expect(equalCodeRatio(green, 1)).toBeCloseTo(-1.2, 12)
  })

  test('trust frames by their uncertainty, and say nothing without an equal code', () => {
    const two = frames.map((frame, k) => ({
      ...frame,
      nominal: [frame.nominal[0], k === 1 ? -2.4 : k === 0 ? -2 : null, null] as const,
      uncertainty: [0.01, k === 1 ? 0.03 : 0.01, 0.01] as const,
    }))
    // -1 of the first, -1.4 + ln 2 of the second, weights 9 to 1.
    expect(equalCodeRatio(two, 1)).toBeCloseTo((9 * -1 + (-1.4 + Math.LN2)) / 10, 12)
    const dark = frames.map((frame) => ({ ...frame, nominal: [-1, -9, -9] as const }))
    expect(equalCodeRatio(dark, 1)).toBeNull()
  })
})

describe('a curve between both kinds', () => {
  test('has the mean and the covariance of the mixture', () => {
    const channel = {
      response: { kind: 'channel', basis: BASIS, coefficients: [0.4, -0.2] },
      responseCovariance: [0.01, 0.002, 0.04],
    } as const
    const { response, responseCovariance } = averagedKinds(channel, 0.75)
    expect(response.coefficients).toEqual([0.75 * 0.4, 0.75 * -0.2])
    // Law of total variance: within p C, between p (1 - p) a b.
    const between = 0.75 * 0.25
    const expected = [
      0.75 * 0.01 + between * 0.16,
      0.75 * 0.002 + between * -0.08,
      0.75 * 0.04 + between * 0.04,
    ]
    expected.forEach((value, i) => {
      expect(responseCovariance[i]).toBeCloseTo(value, 12)
    })
    expect(averagedKinds(channel, 1)).toEqual(channel)
  })
})

test('the kind of a curve stayed open where both were averaged with a warning', () => {
  const open = (code: string, weight: string) =>
    kindOpen({
      findings: [
        { code: 'sweep short', weight: 'warning' },
        { code, weight },
      ],
    } as never)
  expect(open('both kinds averaged', 'warning')).toBe(true)
  expect(open('both kinds averaged', 'note')).toBe(false)
  expect(open('drift', 'warning')).toBe(false)
})

test('a sweep goes down to where red is what green was, and three stops on', () => {
  expect(neededStops(-1, -1 - 2 * Math.LN2)).toBeCloseTo(5, 12)
})
