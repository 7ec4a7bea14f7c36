import { describe, expect, test } from 'vitest'
import { lightInP3 } from '../../src/estimate/balanced-colour.ts'
import { CAMERA_LOCUS } from '../../src/estimate/camera-locus/camera-locus.ts'
import { cameraModel } from '../../src/estimate/camera-model.ts'
import type { MeasuredRatio } from '../../src/estimate/measured-ratio.ts'
import { blueEquation, ratioEquation } from '../../src/estimate/ratio-equation.ts'
import { expectClose } from '../close-to.ts'
import { DAYLIGHT, STEEL } from './inputs.ts'

const KELVIN = 1300
const LAMP_K = 2700
/** A tone curve that raises both ratios by a tenth and a fifth, as the second of two. */
const CORRECTIONS = { green: [0, Math.log(1.1)], blue: [0, Math.log(1.2)] }

const measured = (
  change: Partial<MeasuredRatio> = {},
  value = 0.2,
  blue = 0.05,
): MeasuredRatio => ({
  value,
  own: [],
  shared: [],
  corrections: CORRECTIONS.green,
  lampOnCardK: null,
  surface: { ...STEEL, standardUncertainty: 0.04 },
  lnSlope: 0,
  infrared: 1,
  blue: {
    kind: 'value',
    value: blue,
    variance: 1e-4,
    corrections: CORRECTIONS.blue,
    perLight: 1,
    greenPerBlue: 1,
  },
  ...change,
})

describe.each([
  ['delivered colours', 'display-p3'],
  ['raw channels', 'camera'],
] as const)('what a ratio of %s says of the camera', (_, channels) => {
  const model = cameraModel(CAMERA_LOCUS, channels, DAYLIGHT)
  const log = model.scale === 'log'
  const on = (ratio: number) => (log ? Math.log(ratio) : ratio)
  const photo = (change: Partial<MeasuredRatio> = {}) => measured(change, on(0.2), on(0.05))
  /** A camera's ratio at a temperature, by one of its numbers. */
  const seen = (of: 'green' | 'blue', kelvin: number, k = 0, coefficient = 0) => {
    const { mean, loadings } = model[of](kelvin)
    const at = mean + coefficient * loadings[k]!
    return log ? Math.exp(at) : at
  }
  const [lampR, lampG, lampB] = lightInP3({ kind: 'filament', colourTemperatureK: LAMP_K })
  const LAMP = { green: lampG / lampR, blue: lampB / lampR }
  const equationOf = {
    green: (one: MeasuredRatio, curve = 0) => ratioEquation(one, model, KELVIN, curve),
    blue: (one: MeasuredRatio, curve = 0) => blueEquation(one, model, KELVIN, curve)!,
  }

  test.each([
    ['green', 0.2, 1.1],
    ['blue', 0.05, 1.2],
  ] as const)(
    '%s less that of the mean camera, straightened by the tone curve',
    (of, ratio, bend) => {
      const expected = model[of](KELVIN)
      expect(equationOf[of](photo()).residual).toBeCloseTo(on(ratio) - expected.mean, 12)
      expect(equationOf[of](photo(), 1).residual).toBeCloseTo(on(bend * ratio) - expected.mean, 12)
      expect(equationOf[of](photo()).camera).toEqual(expected.loadings)
      // Hotter, and more is expected.
      const step = 0.01
      const by = (model[of](KELVIN + step).mean - model[of](KELVIN - step).mean) / (2 * step)
      expectClose(equationOf[of](photo()).slope, -by, 1e-4)
    },
  )

  test('errors of a ratio grow as the curve that straightens it', () => {
    const factor = log ? 1 : 1.1
    expect(equationOf.green(photo()).gain).toBe(1)
    expectClose(equationOf.green(photo(), 1).gain, factor, 1e-12)
    expectClose(equationOf.blue(photo(), 1).variance, log ? 1e-4 : 1.2 ** 2 * 1e-4, 1e-12)
  })

  test('a slope of the surface counts as what it does to 1/T (Wien, 550 and 650 nm)', () => {
    // d(1/T) = d ln(eG/eR) / (c2 (1/550 nm - 1/650 nm)), c2 = 14.388 mm K (CODATA).
    const kelvin = (KELVIN ** 2 * 0.04) / (1.4387769e7 * (1 / 550 - 1 / 650))
    expectClose(equationOf.green(photo()).surface, model.visibleSlope(KELVIN) * kelvin, 1e-6)
  })

  test.each([
    ['green', 0.2],
    ['blue', 0.05],
  ] as const)('of %s under a lamp the card was seen through the same camera', (of, ratio) => {
    const underLamp = equationOf[of](photo({ lampOnCardK: LAMP_K }))
    if (log) {
      const expected = model[of](KELVIN).mean - model[of](LAMP_K).mean
      expect(underLamp.residual).toBeCloseTo(on(ratio) - expected, 12)
      underLamp.camera.forEach((loading, k) => {
        const apart = model[of](KELVIN).loadings[k]! - model[of](LAMP_K).loadings[k]!
        expect(loading).toBeCloseTo(apart, 12)
      })
      return
    }
    // value f(lamp) / observer(lamp) = f(T), for any camera.
    const departs = (k: number, c: number) =>
      (ratio * seen(of, LAMP_K, k, c)) / LAMP[of] - seen(of, KELVIN, k, c)
    expectClose(underLamp.residual, departs(0, 0), 1e-6)
    underLamp.camera.forEach((loading, k) => {
      expect(loading).toBeCloseTo((departs(k, -1) - departs(k, 1)) / 2, 6)
    })
  })

  test('of a lamp on the card the factor on the errors is what the camera sees of it', () => {
    const factor = (of: 'green' | 'blue') => (log ? 1 : seen(of, LAMP_K) / LAMP[of])
    const underLamp = photo({ lampOnCardK: LAMP_K })
    expectClose(equationOf.green(underLamp, 1).gain, (log ? 1 : 1.1) * factor('green'), 1e-6)
    const blue = equationOf.blue(underLamp)
    expectClose(blue.variance, 1e-4 * factor('blue') ** 2, 1e-6)
    expectClose(blue.perLight, factor('blue'), 1e-6)
    expectClose(blue.greenPerBlue, factor('green') / factor('blue'), 1e-6)
  })

  test('a photo without blue says nothing of it', () => {
    expect(blueEquation(photo({ blue: null }), model, KELVIN, 0)).toBeNull()
  })
})
