import { describe, expect, test } from 'vitest'
import { bradford } from '../../../src/colour/adaptation.ts'
import { xyFromXyz, xyzFromXy } from '../../../src/colour/chromaticity.ts'
import { ILLUMINANT_A } from '../../../src/colour/illuminants.ts'
import { observerAt } from '../../../src/colour/observer.ts'
import { linearP3FromXyz, P3_FROM_XYZ, WHITE_D65 } from '../../../src/colour/rgb-spaces.ts'
import { infraredIntegral, infraredSensitivity } from '../../../src/light/simulate/infrared-leak.ts'
import {
  type CameraSensitivity,
  cameraFromJson,
  respond,
  trainingFromJson,
} from '../../../src/light/simulate/sensitivity.ts'
import {
  deliveredP3,
  glowSpectrum,
  PRESET_LIGHT,
  PRESET_WHITE,
  simulateCamera,
} from '../../../src/light/simulate/simulated-camera.ts'
import { type Matrix3, multiply, type Triple, transform } from '../../../src/numerics/matrix3.ts'
import { siliconAbsorbs } from '../../../src/physics/silicon.ts'
import { uniform } from '../pictures.ts'

const json = (main: Record<string, unknown>, header?: unknown) => ({
  ...(header === undefined ? {} : { header }),
  spectral_data: { data: { main } },
})

describe('a table of spectra', () => {
  test('is read in order of wavelength, with the camera’s names', () => {
    const main = { 420: [3, 4, 5, 9], 400: [1, 0, 0], 410: [2, 1, 0] }
    expect(cameraFromJson(json(main, { manufacturer: 'Made', model: 'Up' }))).toEqual({
      make: 'Made',
      model: 'Up',
      firstNm: 400,
      stepNm: 10,
      values: [
        [1, 0, 0],
        [2, 1, 0],
        [3, 4, 5],
      ],
    })
    expect(cameraFromJson(json(main))).toMatchObject({ make: '', model: '' })
    expect(trainingFromJson(json({ 380: [0.1], 385: [0.2] }))).toEqual({
      firstNm: 380,
      stepNm: 5,
      rows: [[0.1], [0.2]],
    })
  })

  test.each([
    ['no table', {}, 'no spectral_data'],
    ['nothing', null, 'no spectral_data'],
    ['text', json('x' as never), 'no spectral_data'],
    ['one row', json({ 400: [1, 1, 1] }), 'fewer than two rows'],
    ['uneven steps', json({ 400: [1, 1, 1], 410: [1, 1, 1], 425: [1, 1, 1] }), 'at 425 nm'],
    ['words', json({ 400: [1, 1, 1], 410: [1, 'x', 1] }), 'row at 410 nm is not of numbers'],
    ['a missing row', json({ 400: [1, 1, 1], 410: null }), 'row at 410 nm is not of numbers'],
    ['two channels', json({ 400: [1, 1, 1], 410: [1, 1] }), 'row 1 has fewer than three'],
  ])('is refused where it holds %s', (_, of, message) => {
    expect(() => cameraFromJson(of)).toThrow(message)
    expect(() => cameraFromJson(of)).toThrow(RangeError)
  })
})

/** Eyes instead of pixels: channels that are sums of the observer's. */
const MIX: Matrix3 = [
  [0.9, 0.3, 0.05],
  [0.2, 1.1, 0.1],
  [0.05, 0.1, 0.8],
]
const EYE: CameraSensitivity = {
  make: '',
  model: '',
  firstNm: 380,
  stepNm: 5,
  values: Array.from({ length: 81 }, (_, i) => transform(MIX, observerAt(380 + 5 * i))),
}
const observer: CameraSensitivity = {
  ...EYE,
  values: EYE.values.map((_, i) => observerAt(380 + 5 * i)),
}
const draw = uniform(7)
const TRAINING = {
  firstNm: 380,
  stepNm: 5,
  rows: Array.from({ length: 81 }, () => Array.from({ length: 12 }, () => 0.1 + 0.8 * draw())),
}

test('the response to a spectrum is its integral, half of it at either end', () => {
  const camera = {
    ...EYE,
    firstNm: 400,
    stepNm: 10,
    values: [1, 2, 3, 4].map((v): Triple => [v, 1, 0]),
  }
  // 0.5 x 1 x 400 + 2 x 410 + 3 x 420 + 0.5 x 4 x 430.
  expect(respond(camera, (nm) => nm)).toEqual([3140, 400 / 2 + 410 + 420 + 430 / 2, 0])
})

describe('a camera whose channels are sums of the observer’s', () => {
  test.each(['daylight', 'lamp'] as const)(
    'delivers the colours that are seen, adapted to its balance: %s',
    (balance) => {
      const camera = simulateCamera(EYE, TRAINING, balance)
      const white = respond(observer, PRESET_LIGHT[balance])
      const toP3 = multiply(P3_FROM_XYZ, bradford(xyFromXyz(white)!, WHITE_D65))
      for (const spectrum of [glowSpectrum(1200), glowSpectrum(2500), (nm: number) => 800 - nm]) {
        const [x, y, z] = respond(observer, spectrum)
        const seen = transform(toP3, [x / white[1], y / white[1], z / white[1]])
        const delivered = deliveredP3(camera, spectrum)
        for (const c of [0, 1, 2] as const)
          expect(Math.abs(delivered[c] - seen[c])).toBeLessThan(1e-3 * Math.abs(seen[0]))
      }
      // The card under its light is white: rows add up to 1.
      for (const [a, b, c] of camera.matrix) expect(a + b + c).toBeCloseTo(1, 9)
      for (const v of deliveredP3(camera, PRESET_LIGHT[balance])) expect(v).toBeCloseTo(1, 9)
    },
  )

  test('needs a light to be balanced for', () => {
    const blind = { ...EYE, firstNm: 5000 }
    expect(() => simulateCamera(blind, TRAINING, 'lamp')).toThrow('dark')
  })
})

test('the eye sees the lamp’s card in the lamp’s light', () => {
  expect(PRESET_WHITE.daylight).toEqual([1, 1, 1])
  const [r, g, b] = linearP3FromXyz(xyzFromXy(ILLUMINANT_A))
  expect(PRESET_WHITE.lamp).toEqual([r, g, b])
  expect(r).toBeGreaterThan(g)
  expect(g).toBeGreaterThan(b)
})

describe('infrared that a filter leaks', () => {
  test('is what silicon absorbs from 780 to 1100 nm', () => {
    for (const spectrum of [() => 1, glowSpectrum(1200)]) {
      let fine = 0
      for (let nm = 780.5; nm < 1100; nm++) fine += spectrum(nm) * siliconAbsorbs(nm, 5)
      expect(infraredIntegral(spectrum, 5) / fine).toBeCloseTo(1, 2)
    }
    expect(infraredIntegral(() => 1, 20)).toBeGreaterThan(infraredIntegral(() => 1, 4))
  })

  test('counts as the camera’s most sensitive channel per nanometre', () => {
    const values: Triple[] = [
      [1, 2, 3],
      [4, 9, 2],
    ]
    expect(infraredSensitivity({ ...EYE, stepNm: 3, values })).toBe(3)
  })
})
