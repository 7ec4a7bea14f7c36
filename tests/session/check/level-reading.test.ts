import { describe, expect, it } from 'vitest'
import type { Reading } from '../../../src/log/schema/types.ts'
import { levelReading } from '../../../src/session/check/level-reading.ts'

/** Only what the level rests on; made up. */
const reading = (input: object, facts: object = {}) =>
  ({
    result: { kind: 'temperature' },
    inputs: {
      glow: {
        mean: [0.4, 0.05, 0.01],
        covariance: [
          [1e-6, 0, 0],
          [0, 0, 0],
          [0, 0, 0],
        ],
      },
      channels: 'camera',
      cameraId: 'made-up camera',
      balanceState: { kind: 'raw', colourTemperatureK: null },
      linearity: { kind: 'raw' },
      quality: { glowWidthPixels: 40 },
      ...input,
    },
    details: { photo: { facts: { exposureSeconds: 0.02, iso: 100, fNumber: 1.8, ...facts } } },
  }) as unknown as Reading

describe('the red level of a reading', () => {
  it('comes with its exposure and its noise', () => {
    const found = levelReading(reading({}))
    expect(found?.red.level).toEqual({ value: 0.4, standardUncertainty: 1e-3 })
    expect(found?.red.exposure).toEqual({ exposureSeconds: 0.02, iso: 100, fNumber: 1.8 })
    expect(found?.linear).toBe(true)
  })

  it('is none where the exposure is not stated, or the light has no fixed scale', () => {
    expect(levelReading(reading({}, { iso: null }))).toBeNull()
    expect(levelReading(reading({ linearity: { kind: 'sweep' } }))).toBeNull()
  })

  it('is told apart by camera, channels and white balance', () => {
    const captures = [
      {},
      { cameraId: 'another made-up camera' },
      { channels: 'display-p3' },
      { balanceState: { kind: 'locked', colourTemperatureK: 5000 } },
      { balanceState: { kind: 'locked', colourTemperatureK: 5500 } },
    ].map((input) => levelReading(reading(input))?.capture)
    expect(new Set(captures).size).toBe(captures.length)
  })
})
