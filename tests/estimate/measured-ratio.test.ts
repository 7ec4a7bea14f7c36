import { describe, expect, test } from 'vitest'
import { balanceDrift } from '../../src/estimate/balance-drift.ts'
import type { BalancedColour } from '../../src/estimate/balanced-colour.ts'
import { CAMERA_LOCUS } from '../../src/estimate/camera-locus/camera-locus.ts'
import { cameraModel } from '../../src/estimate/camera-model.ts'
import {
  type MeasuredRatio,
  measuredRatio,
  type RatioPhoto,
  trueTemperatureOf,
} from '../../src/estimate/measured-ratio.ts'
import {
  correctionMoments,
  ratioCorrection,
  TONE_CURVES,
} from '../../src/estimate/tone-curve-prior.ts'
import type { BalanceState, Linearity } from '../../src/estimate/types.ts'
import { expectClose } from '../close-to.ts'
import { CARD, DAYLIGHT, STEEL } from './inputs.ts'

const PRESET: BalanceState = { kind: 'daylight', colourTemperatureK: null }
const LEVELS = [0.73, 0.27, 0.15] as const
const single = (curveId: string, blue: number = LEVELS[2]): Linearity => ({
  kind: 'single',
  curveId,
  storedLevels: [LEVELS[0], LEVELS[1], blue],
  space: 'display-p3',
})
const sweep = (change = {}): Linearity => ({
  kind: 'sweep',
  curveId: 'of today',
  standardUncertaintyGreen: 0.03,
  standardUncertaintyBlue: 0.05,
  ...change,
})
const COLOUR: BalancedColour = {
  rgb: [1, 0.2, 0.05],
  covariance: [
    [0, 0, 0],
    [0, 0, 0],
    [0, 0, 0],
  ],
  green: 0.2,
  blue: 0.05,
  greenVariance: { pixel: 4e-6, balance: 9e-6 },
  blueVariance: { pixel: 1e-6, balance: 2e-6 },
  lampOnCardK: null,
}
const PHOTO: RatioPhoto = {
  balance: CARD,
  balanceState: PRESET,
  linearity: { kind: 'linear' },
  surface: { ...STEEL, lnGreenOverRed: 0.04, standardUncertainty: 0.02 },
  lnWindow: -0.01,
  infrared: 1,
  blueFloorShare: 0,
}
const SHARED = { curveId: 'shared', curves: TONE_CURVES }

describe.each([
  ['delivered colours', 'display-p3', false],
  ['raw channels', 'camera', true],
] as const)('a photo’s ratio, of %s', (_, channels, log) => {
  const model = cameraModel(CAMERA_LOCUS, channels, DAYLIGHT)
  const of = (photo: Partial<RatioPhoto> = {}, colour: Partial<BalancedColour> = {}) =>
    measuredRatio({ ...COLOUR, ...colour }, { ...PHOTO, ...photo }, model, SHARED)
  const on = (ratio: number) => (log ? Math.log(ratio) : ratio)
  /** A relative error as one of the value. */
  const unit = log ? 1 : 0.2
  const own = ({ own }: MeasuredRatio, term: string) =>
    own.filter((one) => one.term === term).map(({ variance }) => variance)
  const shared = ({ shared }: MeasuredRatio, term: string) =>
    shared.filter((one) => one.term === term)

  test('has the noise of its pixels for itself, and the error of its card with all of that card', () => {
    const found = of()
    expect(found.value).toBeCloseTo(on(0.2), 12)
    expectClose(own(found, 'pixel noise')[0]!, log ? 4e-6 / 0.2 ** 2 : 4e-6, 1e-12)
    const [card] = shared(found, 'grey reference')
    expectClose(card!.standardUncertainty, log ? 3e-3 / 0.2 : 3e-3, 1e-12)
    expect(shared(of({ balance: { ...CARD, id: 'other' } }), 'grey reference')[0]!.key).not.toBe(
      card!.key,
    )
    expect(shared(of({ balance: null }), 'grey reference')[0]!.key).not.toBe(card!.key)
  })

  test('drifts for itself, or with other places of its photo', () => {
    const drift = balanceDrift(CARD, PRESET) * unit
    expectClose(own(of(), 'balance drift')[0]!, drift ** 2, 1e-12)
    expect(shared(of(), 'balance drift')).toEqual([])
    const [a, b, c] = ['one', 'one', 'two'].map((photo) => of({ photo }))
    expect(own(a!, 'balance drift')).toEqual([])
    const keyOf = (one: MeasuredRatio) => shared(one, 'balance drift')[0]!
    expectClose(keyOf(a!).standardUncertainty, drift, 1e-12)
    expect(keyOf(b!).key).toBe(keyOf(a!).key)
    expect(keyOf(c!).key).not.toBe(keyOf(a!).key)
  })

  test('of a sweep drifts by the mean of its photos', () => {
    const [one, four] = [1, 4].map((photos) =>
      own(of({ linearity: sweep({ photos }) }), 'balance drift'),
    )
    expectClose(one![0]! / four![0]!, 4, 1e-9)
  })

  test('of a sweep errs with its curve, and by what its levels leave open for itself', () => {
    const plain = of({ linearity: sweep() })
    expect(shared(plain, 'tone curve')).toHaveLength(1)
    expectClose(shared(plain, 'tone curve')[0]!.standardUncertainty, 0.03 * unit, 1e-12)
    expect(own(plain, 'tone curve')).toEqual([])
    expect(shared(of({ linearity: sweep({ curveId: 'old' }) }), 'tone curve')[0]!.key).not.toBe(
      shared(plain, 'tone curve')[0]!.key,
    )
    const byCause = of({ linearity: sweep({ greenErrors: [0.02, -0.01], ownUncertainty: 0.04 }) })
    const errors = shared(byCause, 'tone curve')
    expect(errors.map(({ standardUncertainty }) => standardUncertainty / unit)).toEqual([
      expect.closeTo(0.02, 12),
      expect.closeTo(-0.01, 12),
    ])
    expect(errors[0]!.key).not.toBe(errors[1]!.key)
    expectClose(own(byCause, 'tone curve')[0]!, (0.04 * unit) ** 2, 1e-12)
  })

  test('on the unknown curve of the reading keeps each possibility open', () => {
    const found = of({ linearity: single('shared') })
    expect(found.value).toBeCloseTo(on(0.2), 12)
    expect(own(found, 'tone curve')).toEqual([])
    const each = TONE_CURVES.map((curve) => ratioCorrection(curve, LEVELS, 'display-p3'))
    expect(found.corrections).toEqual(each.map(({ green }) => green))
    expect(found.blue!.corrections).toEqual(each.map(({ blue }) => blue))
  })

  test('on another unknown curve is taken by the mean of all, as unsure as they spread', () => {
    const found = of({ linearity: single('its own') })
    const { mean, variance } = correctionMoments(LEVELS, 'display-p3', 'green')
    expect(found.corrections).toEqual([])
    expect(found.blue!.corrections).toEqual([])
    expectClose(found.value, on(0.2 * Math.exp(mean)), 1e-12)
    expectClose(own(found, 'tone curve')[0]!, variance * unit ** 2, 1e-12)
    const blue = correctionMoments(LEVELS, 'display-p3', 'blue')
    expectClose(found.blue!.value, on(0.05 * Math.exp(blue.mean)), 1e-12)
    expect(found.blue!.variance).toBeGreaterThan(blue.variance * (log ? 1 : found.blue!.value ** 2))
  })

  test('turns green over red of surface and window together into a true temperature', () => {
    expect(of().lnSlope).toBeCloseTo(0.03, 12)
    // 1/T = 1/Tc + ln(eG/eR) / (c2 (1/550 nm - 1/650 nm)), c2 = 14.388 mm K.
    const scale = 1.4387769e7 * (1 / 550 - 1 / 650)
    expectClose(trueTemperatureOf(1200, of()), 1 / (1 / 1200 + 0.03 / scale), 1e-6)
  })

  test('has a blue as unsure as noise, card, stray light, and twice what green drifts by', () => {
    const { blue } = of()
    // Stray light of some thousandths of the brightest channel: common practice.
    const added = 1e-6 + 2e-6 + 0.003 ** 2
    const relative = (2 * Math.hypot(balanceDrift(CARD, PRESET), 0.02)) ** 2
    expect(blue!.kind).toBe('value')
    expect(blue!.value).toBeCloseTo(on(0.05), 12)
    const variance = log ? added / 0.05 ** 2 + relative : added + relative * 0.05 ** 2
    expectClose(blue!.variance, variance, 1e-9)
    // What light of 1 adds: 1 to a ratio, 1 over it to its logarithm, and so much more to blue's.
    expectClose(blue!.perLight, log ? 1 / 0.05 : 1, 1e-12)
    expectClose(blue!.greenPerBlue, log ? 0.05 / 0.2 : 1, 1e-12)
  })

  test('of no blue at all in light that never was codes is none', () => {
    const none = (linearity: Linearity, blue: number) => of({ linearity }, { blue }).blue
    expect(none({ kind: 'raw' } as Linearity, 0)).toBeNull()
    expect(none(single('shared'), -0.01)).toBeNull()
    const below = none({ kind: 'raw' } as Linearity, -0.01)
    if (log) {
      expect(below).toBeNull()
      expect(none({ kind: 'linear' }, 0)).toBeNull()
      return
    }
    expect(below).toMatchObject({ kind: 'value', value: -0.01 })
    expect(none({ kind: 'linear' }, -0.01)).toMatchObject({ kind: 'value', value: -0.01 })
    // Stored blue of nothing says that there is no more.
    expect(none({ kind: 'linear' }, 0)).toMatchObject({ kind: 'at most', value: 0 })
    expect(none(single('shared'), 0)).toMatchObject({ kind: 'at most' })
  })
})
