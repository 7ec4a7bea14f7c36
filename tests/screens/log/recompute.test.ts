import { describe, expect, test } from 'vitest'
import { estimateGlow } from '../../../src/estimate/estimate-glow.ts'
import { METHOD_VERSION } from '../../../src/estimate/method-version.ts'
import type { GlowInput, KnownHeatReference } from '../../../src/estimate/types.ts'
import type { Json, Reading, Result } from '../../../src/log/types.ts'
import { type Recomputed, recompute } from '../../../src/screens/log/entry/recompute.ts'
import { storedGlow } from '../../../src/screens/log/entry/stored-glow.ts'
import { surfaceOf } from '../../../src/screens/reading/glow-input.ts'
import { resultOf } from '../../../src/screens/reading/reading-record.ts'

const variance = 1e-6
const INPUT: GlowInput = {
  glow: {
    mean: [0.6, 0.066, 0.004],
    covariance: [
      [variance, 0, 0],
      [0, variance, 0],
      [0, 0, variance],
    ],
  },
  channels: 'display-p3',
  cameraToXyz: null,
  balance: null,
  balanceState: { kind: 'daylight', colourTemperatureK: null },
  linearity: { kind: 'linear' },
  quality: {
    clippedShare: 0,
    floorShare: [0, 0, 0],
    backgroundShare: 0,
    glowWidthPixels: 80,
    chromaSubsampled: false,
  },
  surface: surfaceOf('steel-oxidised'),
  window: null,
  cameraId: 'camera a',
  takenAt: '2026-03-14T15:09:00Z',
  references: [],
}

function reading(part: Partial<Reading> = {}): Reading {
  return {
    version: 2,
    id: '00000000-0000-4000-8000-000000000000',
    savedAt: '2026-03-14T15:10:00Z',
    takenAt: { iso: '2026-03-14T16:09:00+01:00', zone: 'Europe/Vienna' },
    method: 'photo',
    simulated: false,
    demo: false,
    result: resultOf(estimateGlow(INPUT), INPUT),
    object: 'bar',
    material: 'steel-oxidised',
    notes: '',
    tags: [],
    series: null,
    supply: null,
    place: '',
    roomTemperatureK: null,
    cover: 'none',
    chromaticity: null,
    swatch: null,
    picture: null,
    parts: [],
    inputs: INPUT as unknown as Json,
    details: null,
    history: [],
    recomputations: [],
    ...part,
  }
}

function made(of: ReturnType<typeof recompute>): Recomputed {
  if (typeof of === 'string') throw new Error(of)
  return of
}
const kelvin = (result: Result) => (result.kind === 'temperature' ? result.temperatureK : null)

describe('computing a reading again', () => {
  test('gives the same figure from the same inputs, and has nothing to offer', () => {
    const again = made(recompute(reading(), null))
    expect(again.result).toEqual(reading().result)
    expect(again.result.kind).toBe('temperature')
    expect(again).toMatchObject({ differs: false, reasons: [], inputs: null })
  })

  test('offers a newer method by its version, even where the figure stays', () => {
    const old: Result = { ...reading().result, methodVersion: 'glow 0' }
    const again = made(recompute(reading({ result: old }), null))
    expect(again).toMatchObject({ differs: true, reasons: ['method'] })
    expect(again.result.methodVersion).toBe(METHOD_VERSION)
  })

  test('puts a wrong surface right afterwards: bare tungsten reads hotter than it is', () => {
    const again = made(recompute(reading({ material: 'tungsten-bare' }), null))
    expect(again).toMatchObject({ differs: true, reasons: ['surface'] })
    // Emissivity that rises towards green makes a glow look hotter: the true one is colder.
    expect(kelvin(again.result)!).toBeLessThan(kelvin(reading().result)!)
    const input = storedGlow(again.inputs)
    expect(input?.surface.id).toBe('tungsten-bare')
  })

  test('uses known heats of the same camera that came into the kit later', () => {
    const salt: KnownHeatReference = {
      id: 'salt',
      name: 'Table salt',
      cameraId: 'camera a',
      takenAt: '2026-03-20T10:00:00Z',
      temperatureK: 1073.6,
      standardUncertaintyK: 3,
      glow: { ...INPUT.glow, mean: [0.6, 0.05, 0.003] },
      channels: 'display-p3',
      balance: null,
      balanceState: INPUT.balanceState,
      linearity: { kind: 'linear' },
      surface: surfaceOf('cavity'),
      group: null,
    }
    const again = made(recompute(reading(), [salt]))
    expect(again.reasons).toEqual(['known heats'])
    const before = reading().result
    if (again.result.kind !== 'temperature' || before.kind !== 'temperature') throw new Error()
    expect(again.result.standardUncertaintyK).toBeLessThan(before.standardUncertaintyK)

    const foreign = made(recompute(reading(), [{ ...salt, cameraId: 'camera b' }]))
    expect(foreign).toMatchObject({ differs: false, reasons: [] })
  })

  test('goes on from the inputs of the latest recomputation', () => {
    const first = made(recompute(reading({ material: 'cavity' }), null))
    const kept = reading({
      material: 'cavity',
      recomputations: [
        {
          at: '2026-04-01T00:00:00Z',
          reason: 'other surface',
          result: first.result,
          inputs: first.inputs,
          details: null,
        },
      ],
    })
    expect(recompute(kept, null)).toMatchObject({ differs: false, reasons: [] })
  })

  test('says why it cannot, and lets nothing strange into the estimate', () => {
    expect(recompute(reading({ method: 'by hand' }), null)).toBe('other method')
    expect(recompute(reading({ inputs: null }), null)).toBe('no inputs')
    for (const inputs of [
      {},
      [],
      'glow',
      { ...INPUT, glow: { mean: ['0.6', 0, 0] } },
      { ...INPUT, references: [{ id: 'x' }] },
      { ...INPUT, channels: 'cmyk' },
    ]) {
      expect(recompute(reading({ inputs: inputs as unknown as Json }), null)).toBe(
        'inputs unreadable',
      )
    }
  })
})
