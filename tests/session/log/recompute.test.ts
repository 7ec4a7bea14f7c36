import { describe, expect, test } from 'vitest'
import { estimateGlow } from '../../../src/estimate/estimate-glow.ts'
import { METHOD_VERSION } from '../../../src/estimate/method-version.ts'
import type { GlowInput, KnownHeatReference } from '../../../src/estimate/types.ts'
import { firstResult } from '../../../src/log/schema/reading-schema.ts'
import type { Json, Reading, Result } from '../../../src/log/schema/types.ts'
import { type Recomputed, recompute, sameFigure } from '../../../src/session/log/recompute.ts'
import { recomputeOffer } from '../../../src/session/log/recompute-model.ts'
import { recomputePlan } from '../../../src/session/log/recompute-plan.ts'
import { storedGlow } from '../../../src/session/log/stored-glow.ts'
import { surfaceOf } from '../../../src/session/reading/glow-input.ts'
import { resultOf } from '../../../src/session/reading/reading-record.ts'

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

function again(of: Reading, kit: readonly KnownHeatReference[] | null): Recomputed {
  const plan = recomputePlan(of, kit)
  if (typeof plan === 'string') throw new Error(plan)
  return recompute(of, plan)
}
const kelvin = (result: Result) => (result.kind === 'temperature' ? result.temperatureK : null)

describe('computing a reading again', () => {
  test('gives the same figure from the same inputs, and has nothing to offer', () => {
    const found = again(reading(), null)
    expect(found.result).toEqual(reading().result)
    expect(found.result.kind).toBe('temperature')
    expect(found).toMatchObject({ differs: false, reasons: [], inputs: null })
  })

  test('offers a newer method by its version, even where the figure stays', () => {
    const old: Result = { ...firstResult(reading()), methodVersion: 'glow 0' }
    const found = again(reading({ result: old }), null)
    expect(found).toMatchObject({ differs: true, reasons: ['method'] })
    expect(found.result.methodVersion).toBe(METHOD_VERSION)
  })

  test('puts a wrong surface right afterwards: bare tungsten reads hotter than it is', () => {
    const found = again(reading({ material: 'tungsten-bare' }), null)
    expect(found).toMatchObject({ differs: true, reasons: ['surface'] })
    // Emissivity that rises towards green makes a glow look hotter: the true one is colder.
    expect(kelvin(found.result)!).toBeLessThan(kelvin(firstResult(reading()))!)
    const input = storedGlow(found.inputs)
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
    const found = again(reading(), [salt])
    expect(found.reasons).toEqual(['known heats'])
    const before = firstResult(reading())
    if (found.result.kind !== 'temperature' || before.kind !== 'temperature') throw new Error()
    expect(found.result.standardUncertaintyK).toBeLessThan(before.standardUncertaintyK)

    const foreign = again(reading(), [{ ...salt, cameraId: 'camera b' }])
    expect(foreign).toMatchObject({ differs: false, reasons: [] })
  })

  test('goes on from the inputs of the latest recomputation', () => {
    const first = again(reading({ material: 'cavity' }), null)
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
    expect(again(kept, null)).toMatchObject({ differs: false, reasons: [] })
  })

  test('says why it cannot, and lets nothing strange into the estimate', () => {
    expect(recomputePlan(reading({ method: 'by hand' }), null)).toBe('other method')
    expect(recomputePlan(reading({ inputs: null }), null)).toBe('no inputs')
    for (const inputs of [
      {},
      [],
      'glow',
      { ...INPUT, glow: { mean: ['0.6', 0, 0] } },
      { ...INPUT, references: [{ id: 'x' }] },
      { ...INPUT, channels: 'cmyk' },
    ]) {
      expect(recomputePlan(reading({ inputs: inputs as unknown as Json }), null)).toBe(
        'inputs unreadable',
      )
    }
  })

  test('estimates only where there is a reason, or where somebody wants to see it', async () => {
    expect(await recomputeOffer(reading(), [], false)).toBe('no reason')
    expect(await recomputeOffer(reading(), [], true)).toBe('same figure')
    const offer = await recomputeOffer(reading({ material: 'tungsten-bare' }), [], false)
    expect(offer).toMatchObject({ asThen: { reasons: ['surface'] }, withKit: null })
  })
})

test('figures that are shown alike are the same', () => {
  // Shown in whole kelvins or tenths: half of a tenth is seen by nobody.
  const at = (temperatureK: number, expandedUncertaintyK = 40) =>
    ({ kind: 'temperature', temperatureK, expandedUncertaintyK }) as Result
  expect(sameFigure(at(1200), at(1200.047))).toBe(true)
  expect(sameFigure(at(1200), at(1199.947))).toBe(false)
  expect(sameFigure(at(1200), at(1200.053))).toBe(false)
  expect(sameFigure(at(1200, 40), at(1200, 40.047))).toBe(true)
  expect(sameFigure(at(1200, 40), at(1200, 40.053))).toBe(false)
  const bound = (temperatureK: number) => ({ kind: 'upper bound', temperatureK }) as Result
  expect(sameFigure(bound(900), bound(900))).toBe(true)
  expect(sameFigure(bound(900), at(900))).toBe(false)
  const none = (reason: string) => ({ kind: 'none', reason }) as Result
  expect(sameFigure(none('dark'), none('clipped'))).toBe(true)
  expect(sameFigure(none('dark'), at(900))).toBe(false)
})
