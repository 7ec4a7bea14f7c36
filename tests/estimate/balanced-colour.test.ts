import { describe, expect, test } from 'vitest'
import { XYZ_FROM_P3 } from '../../src/colour/rgb-spaces.ts'
import { balanceP3, balanceRawWithMatrix, lightInP3 } from '../../src/estimate/balanced-colour.ts'
import type { GreyBalance } from '../../src/estimate/types.ts'
import {
  diagonal,
  invert,
  type Matrix3,
  multiply,
  type Triple,
  transform,
} from '../../src/numerics/matrix3.ts'
import { expectClose } from '../close-to.ts'
import { CARD, colour, DAYLIGHT } from './inputs.ts'

/** An invented camera: raw = inverse of a mixing matrix times gains, from linear P3. */
const MIX: Matrix3 = [
  [1.4, -0.3, -0.1],
  [-0.2, 1.3, -0.1],
  [0, -0.4, 1.4],
]
const WHITE_RAW: Triple = [0.5, 1, 0.7]
const RAW_TO_P3 = multiply(MIX, diagonal([1 / WHITE_RAW[0], 1 / WHITE_RAW[1], 1 / WHITE_RAW[2]]))
const TO_XYZ = multiply(XYZ_FROM_P3, RAW_TO_P3)
const rawOf = (p3: Triple): Triple => transform(invert(RAW_TO_P3), p3)

/** D65 of the CIE and the white of Display P3 differ in the fifth decimal of x and y. */
const WHITES_APART = 1e-3
const NOTHING = diagonal([0, 0, 0])
const cardIn = (raw: Triple, light: GreyBalance['light']): GreyBalance => ({
  ...CARD,
  logGains: [-Math.log(raw[0]), -Math.log(raw[1]), -Math.log(raw[2])],
  covariance: NOTHING,
  light,
})
const D65 = { kind: 'daylight', colourTemperatureK: 6504, standardUncertaintyK: 0 } as const

describe('balancing Display P3', () => {
  test('multiplies the ratios by the ratios of the gains', () => {
    const balance = { ...CARD, logGains: [0.1, 0.3, -0.2] as const }
    const seen = balanceP3(colour(0.1, 0.03), balance, DAYLIGHT)
    expectClose(seen.green, 0.1 * Math.exp(0.2), 1e-12)
    expectClose(seen.blue, 0.03 * Math.exp(-0.3), 1e-12)
  })

  test('carries noise of pixels and gains to the ratios (JCGM 100:2008, eq. 13)', () => {
    const covariance: Matrix3 = [
      [4e-6, 1e-6, 0],
      [1e-6, 9e-6, 0],
      [0, 0, 1e-6],
    ]
    const seen = balanceP3(colour(0.1, 0.03, 0.01), { ...CARD, covariance }, DAYLIGHT)
    // Relative variances of a ratio of independent R and G add; of gains with covariance too.
    expectClose(seen.greenVariance.pixel, 0.1 ** 2 * (2 * 0.01 ** 2), 1e-9)
    expectClose(seen.greenVariance.balance, 0.1 ** 2 * (4e-6 + 9e-6 - 2e-6), 1e-9)
  })

  test('without a card a lamp preset is carried back to lamp light, with a wide uncertainty', () => {
    const seen = balanceP3(colour(0.2, 0.05), null, { kind: 'lamp', colourTemperatureK: null })
    const lamp = lightInP3({ kind: 'filament', colourTemperatureK: 2856 })
    expectClose(seen.green, (0.2 * lamp[1]) / lamp[0], 1e-9)
    expect(seen.greenVariance.balance).toBeGreaterThan((0.05 * seen.green) ** 2)
  })
})

describe('balancing raw pixels with the colour matrix of the file', () => {
  const glow: Triple = [0.5, 0.06, 0.02]
  const raw = { mean: rawOf(glow), covariance: NOTHING }

  test('gives the P3 colour that a colour-managed camera would deliver', () => {
    const seen = balanceRawWithMatrix(raw, cardIn(WHITE_RAW, D65), TO_XYZ)
    expectClose(seen.green, glow[1] / glow[0], WHITES_APART)
    expectClose(seen.blue, glow[2] / glow[0], WHITES_APART)
  })

  test('gives the same without a card, with more uncertainty', () => {
    const seen = balanceRawWithMatrix(raw, null, TO_XYZ)
    expectClose(seen.green, glow[1] / glow[0], 1e-3)
    expect(seen.greenVariance.balance).toBeGreaterThan(0)
  })

  test('undoes a filter over lens and card alike', () => {
    const filter: Triple = [0.9, 0.7, 0.5]
    const filtered = (v: Triple): Triple => [v[0] * filter[0], v[1] * filter[1], v[2] * filter[2]]
    const seen = balanceRawWithMatrix(
      { mean: filtered(rawOf(glow)), covariance: NOTHING },
      cardIn(filtered(WHITE_RAW), D65),
      TO_XYZ,
    )
    expectClose(seen.green, glow[1] / glow[0], WHITES_APART)
  })

  test('takes a card under a filament lamp for that lamp', () => {
    const lampP3 = lightInP3({ kind: 'filament', colourTemperatureK: 2700 })
    const light = { kind: 'filament', colourTemperatureK: 2700, standardUncertaintyK: 0 } as const
    const seen = balanceRawWithMatrix(raw, cardIn(rawOf(lampP3), light), TO_XYZ)
    expectClose(seen.green, glow[1] / glow[0], 1e-6)
    expect(seen.lampOnCardK).toBe(2700)
  })

  test('doubts the ratios as much as the colour temperature of the daylight', () => {
    const unsure = { ...D65, standardUncertaintyK: 500 }
    const seen = balanceRawWithMatrix(raw, cardIn(WHITE_RAW, unsure), TO_XYZ)
    const hot = lightInP3({ kind: 'daylight', colourTemperatureK: 7004 })
    const cold = lightInP3({ kind: 'daylight', colourTemperatureK: 6004 })
    const expected = Math.log(hot[1] / hot[0] / (cold[1] / cold[0])) / 2
    expectClose(Math.sqrt(seen.greenVariance.balance) / seen.green, expected, 0.05)
  })
})
