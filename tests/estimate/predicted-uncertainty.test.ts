import { describe, expect, test } from 'vitest'
import { cameraModel } from '../../src/estimate/camera-model.ts'
import { CAMERA_LOCUS, estimateGlow } from '../../src/estimate/estimate-glow.ts'
import {
  predictedReading,
  predictingPhoto,
  type ReadingLike,
} from '../../src/estimate/predicted-uncertainty.ts'
import type { GreyBalance, KnownHeatReference } from '../../src/estimate/types.ts'
import { CARD, DAYLIGHT } from './inputs.ts'

const GREY = { id: 'grey-body', lnGreenOverRed: 0, standardUncertainty: 0.02 }
const BALANCE: GreyBalance = {
  ...CARD,
  light: { kind: 'daylight', colourTemperatureK: 6504, standardUncertaintyK: 100 },
}

/** The mean camera's colour of a glow. */
function glow(temperatureK: number) {
  const model = cameraModel(CAMERA_LOCUS, 'display-p3', DAYLIGHT)
  const value = model.green(temperatureK).mean
  const green = model.scale === 'log' ? Math.exp(value) : value
  const noise = (level: number) => (0.003 * level) ** 2
  return {
    mean: [0.5, 0.5 * green, 0.5 * model.blue(temperatureK).mean] as const,
    covariance: [
      [noise(0.5), 0, 0],
      [0, noise(0.5 * green), 0],
      [0, 0, 1e-6],
    ] as const,
  }
}

const like: ReadingLike = {
  glow: glow(1073.6),
  channels: 'display-p3',
  cameraToXyz: null,
  faithfulColours: true,
  balance: BALANCE,
  balanceState: DAYLIGHT,
  linearity: { kind: 'linear' },
  surface: GREY,
  cameraId: 'camera',
  takenAt: null,
  references: [],
}

const salt: KnownHeatReference = {
  ...like,
  id: 'salt',
  name: 'salt',
  takenAt: '2026-01-01T00:00:00Z',
  temperatureK: 1073.6,
  standardUncertaintyK: 6.1,
  group: null,
}

describe('a predicted reading', () => {
  test.each([1000, 1173.15, 1600, 2400])(
    'reads what was asked for, %d K, as near as its ± needs',
    (temperatureK) => {
      const near = predictedReading(like, temperatureK)!
      expect(Math.abs(near.temperatureK - temperatureK)).toBeLessThan(3)
      // What is shown is the ±: at the very temperature it is alike, to half of its second digit.
      const steps = predictingPhoto(like, temperatureK, null, CAMERA_LOCUS, 0.3)
      let step = steps.next()
      while (!step.done) step = steps.next()
      const { estimate } = step.value!
      expect(Math.abs(estimate.temperatureK - temperatureK)).toBeLessThan(0.3)
      expect(Math.abs(near.standardUncertaintyK / estimate.standardUncertaintyK - 1)).toBeLessThan(
        0.01,
      )
    },
  )

  test('is what a reading of that colour gives', () => {
    const predicted = predictedReading(like, 1173.15)
    const read = estimateGlow({
      ...like,
      glow: glow(1173.15),
      quality: {
        clippedShare: 0,
        floorShare: [0, 0, 0],
        backgroundShare: 0,
        glowWidthPixels: 100,
        chromaSubsampled: false,
      },
      window: null,
    })
    // The mean camera without a leak reads some kelvin off the one that may have one.
    const ratio =
      (read.kind === 'temperature' ? read.standardUncertaintyK : 0) /
      (predicted?.standardUncertaintyK ?? 0)
    expect(ratio).toBeGreaterThan(0.9)
    expect(ratio).toBeLessThan(1.1)
  })

  test('is several times surer with a known heat near by, and never less sure', () => {
    const without = predictedReading(like, 1173.15)?.standardUncertaintyK ?? 0
    const with_ = predictedReading({ ...like, references: [salt] }, 1173.15)
    expect(with_?.standardUncertaintyK).toBeLessThan(without / 3)
    expect(with_?.referencesUsed).toMatchObject([{ id: 'salt', status: 'used' }])
  })

  test('of an ordinary photo counts the tone curve', () => {
    const single = {
      ...like,
      linearity: {
        kind: 'single',
        curveId: 'curve',
        storedLevels: [0.73, 0.26, 0.04],
        space: 'display-p3',
      },
    } as const
    const predicted = predictedReading(single, 1173.15)
    expect(predicted?.budget.map(({ term }) => term)).toContain('tone curve')
    expect(predicted?.standardUncertaintyK).toBeGreaterThan(
      predictedReading(like, 1173.15)?.standardUncertaintyK ?? 0,
    )
  })

  test('does not exist below the range', () => {
    expect(predictedReading(like, 700)).toBeNull()
  })
})
