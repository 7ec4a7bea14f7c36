import { describe, expect, test } from 'vitest'
import { CAMERA_LOCUS } from '../../src/estimate/camera-locus/camera-locus.ts'
import { deriveCameraLocus, ratioCurves } from '../../src/estimate/camera-locus/derive.ts'
import { curveAt, locusPlace } from '../../src/estimate/camera-locus/locus-curve.ts'
import { cameraModel, sameBalance } from '../../src/estimate/camera-model.ts'
import type { BalanceState } from '../../src/estimate/types.ts'
import {
  deliveredP3,
  glowSpectrum,
  simulateCamera,
} from '../../src/light/simulate/simulated-camera.ts'
import { expectClose } from '../close-to.ts'
import { readCameras, readTraining } from '../measured-data.ts'

describe('the camera locus', () => {
  test('is what its script makes of the measured cameras', () => {
    const locus = deriveCameraLocus(readCameras(), readTraining(), CAMERA_LOCUS)
    expect(locus.cameras).toBe(CAMERA_LOCUS.cameras)
    for (const state of ['daylight', 'lamp', 'raw'] as const)
      for (const ratio of ['green', 'blue'] as const) {
        const [derived, kept] = [locus.states[state][ratio], CAMERA_LOCUS.states[state][ratio]]
        expect(derived.loadings.length).toBe(kept.loadings.length)
        const rows = [derived.mean, ...derived.loadings]
        // Kept to six decimals.
        for (const [r, row] of [kept.mean, ...kept.loadings].entries())
          for (const [i, value] of row.entries())
            expect(Math.abs(value - rows[r]![i]!)).toBeLessThan(1e-6)
      }
  })

  test('between its nodes is within 0.1 K of the spectral integral, 0.5 K above 2500 K', () => {
    const training = readTraining()
    const sensitivity = readCameras()[0]!
    const { green } = ratioCurves(sensitivity, training).states.daylight
    const camera = simulateCamera(sensitivity, training, 'daylight')
    for (let kelvin = 830; kelvin <= 3200; kelvin *= 1.013) {
      const [r, g] = deliveredP3(camera, glowSpectrum(kelvin))
      const { value } = curveAt(green, locusPlace(CAMERA_LOCUS, green.length, kelvin))
      // G/R rises by 2e-4 a kelvin.
      expect(Math.abs(value - g / r)).toBeLessThan(kelvin < 2500 ? 2e-5 : 1e-4)
    }
  })

  test('reads hot on average where the camera is taken for an eye', () => {
    // Simulations with these cameras: the CIE locus reads 63 to 72 K hot at 1173 K on average.
    const { green } = CAMERA_LOCUS.states.daylight
    const { value } = curveAt(green.mean, locusPlace(CAMERA_LOCUS, green.mean.length, 1173))
    // CIE Planckian locus in linear P3: G/R 0.099 at 1173 K, 0.121 at 1250 K.
    expect(value).toBeGreaterThan(0.11)
    expect(value).toBeLessThan(0.124)
  })
})

describe('the curve of a locus', () => {
  const model = cameraModel(CAMERA_LOCUS, 'display-p3', {
    kind: 'daylight',
    colourTemperatureK: null,
  })

  test('has the slope that its values have', () => {
    for (const kelvin of [800, 950, 1173, 1358, 2000, 3000]) {
      const step = 0.01
      const difference =
        (model.green(kelvin + step).mean - model.green(kelvin - step).mean) / (2 * step)
      expectClose(model.green(kelvin).slope, difference, 1e-4)
    }
  })

  test('rises over the whole range and is held beyond it', () => {
    for (let kelvin = 800; kelvin < 3300; kelvin += 10)
      expect(model.green(kelvin).slope).toBeGreaterThan(0)
    expect(model.green(5000).mean).toBe(model.green(3800).mean)
    expect(model.green(5000).slope).toBe(0)
  })

  test('of a camera between the presets lies between theirs', () => {
    const at = (state: BalanceState) => cameraModel(CAMERA_LOCUS, 'display-p3', state).green(1173)
    const daylight = at({ kind: 'daylight', colourTemperatureK: null }).mean
    const lamp = at({ kind: 'lamp', colourTemperatureK: null }).mean
    const middle = at({ kind: 'locked', colourTemperatureK: 4000 }).mean
    // Balanced for lamp light the same cameras read 50 to 100 K lower.
    expect(lamp).toBeLessThan(daylight)
    expect(middle).toBeGreaterThan(lamp)
    expect(middle).toBeLessThan(daylight)
  })

  test('spreads more when the balance is unknown', () => {
    const spread = (state: BalanceState) =>
      Math.hypot(...cameraModel(CAMERA_LOCUS, 'display-p3', state).green(1173).loadings)
    expect(spread({ kind: 'unknown', colourTemperatureK: null })).toBeGreaterThan(
      spread({ kind: 'lamp', colourTemperatureK: null }),
    )
  })
})

describe('white-balance states', () => {
  const locked = (colourTemperatureK: number | null): BalanceState => ({
    kind: 'locked',
    colourTemperatureK,
  })
  test('are the same when kind and colour temperature are', () => {
    expect(sameBalance(locked(5000), locked(5000))).toBe(true)
    expect(sameBalance(locked(5000), locked(5100))).toBe(true)
    expect(sameBalance(locked(5000), locked(4000))).toBe(false)
    expect(sameBalance(locked(5000), locked(null))).toBe(false)
    expect(sameBalance(locked(5000), { kind: 'daylight', colourTemperatureK: null })).toBe(false)
  })
  test('that are automatic or unknown are the same as nothing', () => {
    const automatic: BalanceState = { kind: 'automatic', colourTemperatureK: null }
    expect(sameBalance(automatic, automatic)).toBe(false)
  })
})
