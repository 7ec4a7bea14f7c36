import { describe, expect, it } from 'vitest'
import type { Reading, Result } from '../../../src/log/schema/types.ts'
import { levelReading } from '../../../src/session/check/level-reading.ts'

const result = (temperatureK: number): Result => ({
  kind: 'temperature',
  temperatureK,
  standardUncertaintyK: 20,
  expandedUncertaintyK: 40,
  interval95K: [temperatureK - 40, temperatureK + 40],
  budget: [],
  methodVersion: 'made up',
})
const unit = [
  [1e-6, 0, 0],
  [0, 1e-6, 0],
  [0, 0, 1e-6],
]

/** Made up. */
const reading = (input: object, facts: object = {}, more: object = {}) =>
  ({
    result: result(1173),
    recomputations: [],
    inputs: {
      glow: { mean: [0.4, 0.05, 0.01], covariance: unit },
      channels: 'camera',
      cameraToXyz: null,
      balance: null,
      cameraId: 'made-up camera',
      balanceState: { kind: 'raw', colourTemperatureK: null },
      linearity: { kind: 'raw' },
      quality: {
        clippedShare: 0,
        floorShare: [0, 0, 0],
        backgroundShare: 0,
        glowWidthPixels: 40,
        chromaSubsampled: false,
      },
      surface: { id: 'cavity', lnGreenOverRed: 0, standardUncertainty: 0 },
      window: null,
      takenAt: null,
      references: [],
      ...input,
    },
    details: { photo: { facts: { exposureSeconds: 0.02, iso: 100, fNumber: 1.8, ...facts } } },
    ...more,
  }) as unknown as Reading

describe('the red level of a reading', () => {
  it('comes with its exposure and its noise', () => {
    const found = levelReading(reading({}))
    expect(found?.red.level).toEqual({ value: 0.4, standardUncertainty: 1e-3 })
    expect(found?.red.exposure).toEqual({ exposureSeconds: 0.02, iso: 100, fNumber: 1.8 })
    expect(found?.linear).toBe(true)
  })

  it('is none where the exposure is not stated', () => {
    expect(levelReading(reading({}, { iso: null }))).toBeNull()
  })

  it('of a recovered curve is comparable with others by that curve, and less sure by it', () => {
    const by = (curveId: string) =>
      levelReading(
        reading({
          linearity: {
            kind: 'sweep',
            curveId,
            standardUncertaintyGreen: 0.01,
            standardUncertaintyBlue: 0.01,
          },
        }),
      )!
    expect(by('a').capture).toBe(by('a').capture)
    expect(by('a').capture).not.toBe(by('b').capture)
    expect(by('a').capture).not.toBe(levelReading(reading({}))!.capture)
    expect(by('a').linear).toBe(true)
    expect(by('a').red.level.standardUncertainty).toBeCloseTo(Math.hypot(1e-3, 0.4 * 0.01), 12)
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

  it('stands beside the result that counts: a recomputation supersedes the first one', () => {
    const recomputations = [
      { at: '2026-03-14T15:09:00Z', reason: 'method', result: result(1273), inputs: null },
    ]
    expect(levelReading(reading({}, {}, { recomputations }))?.temperature.value).toBe(1273)
  })

  it('is none, and nothing falls over, where the stored inputs are not as they should be', () => {
    for (const bad of [
      { glow: null },
      { glow: { mean: [0.4] } },
      { glow: { mean: ['hot', 0, 0], covariance: unit } },
      { glow: { mean: [-0.4, 0, 0], covariance: unit } },
      { balanceState: null },
      { linearity: null },
      { quality: 7 },
    ])
      expect(levelReading(reading(bad))).toBeNull()
    for (const inputs of [null, 3, 'text', [], {}])
      expect(levelReading(reading({}, {}, { inputs }))).toBeNull()
    for (const details of [null, 'x', { photo: 3 }, { photo: { facts: { iso: '100' } } }])
      expect(levelReading(reading({}, {}, { details }))).toBeNull()
    expect(levelReading(reading({}, { exposureSeconds: -1 }))).toBeNull()
  })
})
