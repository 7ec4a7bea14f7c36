import { describe, expect, test } from 'vitest'
import { SPECTRUM_METHOD_VERSION } from '../../../src/estimate/spectrum/method-version.ts'
import { firstResult } from '../../../src/log/schema/reading-schema.ts'
import type { Json, Reading } from '../../../src/log/schema/types.ts'
import { type Recomputed, recompute } from '../../../src/session/log/recompute.ts'
import { recomputeOffer } from '../../../src/session/log/recompute-model.ts'
import { recomputePlan } from '../../../src/session/log/recompute-plan.ts'
import { savedSpectrum } from './saved-spectrum.ts'

function again(of: Reading): Recomputed {
  const plan = recomputePlan(of, null)
  if (typeof plan === 'string') throw new Error(plan)
  return recompute(of, plan)
}
const figureOf = (of: Pick<Reading, 'result'>) => {
  const result = firstResult(of)
  if (result.kind !== 'temperature') throw new Error(result.kind)
  return result
}

describe('computing a spectrum again', () => {
  const reading = savedSpectrum()

  test('gives the same figure from what was stored, and has nothing to offer', async () => {
    const found = again(reading)
    expect(found.result).toEqual(reading.result)
    expect(found).toMatchObject({ differs: false, reasons: [], inputs: null })
    expect(await recomputeOffer(reading, [], false)).toBe('no reason')
    expect(await recomputeOffer(reading, [], true)).toBe('same figure')
  })

  test('offers a newer method by its version', async () => {
    const old = { ...reading, result: { ...reading.result, methodVersion: 'spectrum 0' } }
    const found = again(old)
    expect(found).toMatchObject({ differs: true, reasons: ['method'] })
    expect(found.result.methodVersion).toBe(SPECTRUM_METHOD_VERSION)
    expect(await recomputeOffer(old, [], false)).toMatchObject({ asThen: { reasons: ['method'] } })
  })

  test('puts surface and cover right afterwards: a hole is surer, and glass is divided out', () => {
    const hole = again(savedSpectrum({ material: 'cavity' }))
    expect(hole.reasons).toEqual(['surface'])
    expect(figureOf(hole).standardUncertaintyK).toBeLessThan(figureOf(reading).standardUncertaintyK)
    expect(figureOf(hole).budget.find(({ term }) => term === 'surface')?.sharedBy).toBe(
      'surface cavity',
    )
    const behindGlass = again(savedSpectrum({ material: 'cavity', cover: 'glass' }))
    expect(behindGlass.reasons).toEqual(['surface', 'cover'])
    // Window glass takes more red than green: the glow looks hotter than it is.
    expect(figureOf(behindGlass).temperatureK).toBeLessThan(figureOf(hole).temperatureK)
    // Kept with its own inputs, it has nothing more to offer.
    const kept = savedSpectrum({
      material: 'cavity',
      recomputations: [
        {
          at: '2026-04-01T00:00:00.000Z',
          reason: 'other surface',
          result: hole.result,
          inputs: hole.inputs,
          details: null,
        },
      ],
    })
    expect(again(kept)).toMatchObject({ differs: false, reasons: [] })
  })

  test('keeps the table of a measured window', () => {
    const inputs = reading.inputs as Record<string, Json>
    const window = {
      wavelengthNm: [400, 600, 900],
      transmittance: [0.6, 0.8, 0.9],
      standardUncertainty: 0,
      transmittanceUncertainty: 0.005,
    }
    const measured = savedSpectrum({
      cover: 'measured',
      inputs: { ...inputs, window, tableName: 'pane.csv' } as unknown as Json,
    })
    const found = again(measured)
    expect(found.reasons).toEqual([])
    expect(found.inputs).toBeNull()
    const term = figureOf(found).budget.find((one) => one.term === 'window')!
    expect(term.contributionK).toBeGreaterThan(0)
    expect(term.sharedBy).toBe('window measured pane.csv')
  })

  test('lets nothing strange into the estimate', () => {
    const inputs = reading.inputs as Record<string, never>
    const { recording, response } = inputs as unknown as {
      recording: { spectrum: { wavelengthNm: number[]; signal: number[] } }
      response: object
    }
    const { spectrum } = recording
    expect(recomputePlan(savedSpectrum({ inputs: null }), null)).toBe('no inputs')
    for (const wrong of [
      {},
      'spectrum',
      { ...inputs, response: { ...response, response: [1, 2, 3] } },
      { ...inputs, recording: { spectrum: { ...spectrum, signal: [1] }, dark: null } },
      {
        ...inputs,
        recording: {
          spectrum: { ...spectrum, wavelengthNm: spectrum.wavelengthNm.toReversed() },
          dark: null,
        },
      },
      { ...inputs, surface: { spectral: 'blue', lnGreenOverRed: 0, standardUncertainty: 0 } },
    ]) {
      expect(recomputePlan({ ...reading, inputs: wrong as unknown as Json }, null)).toBe(
        'inputs unreadable',
      )
    }
  })
})
