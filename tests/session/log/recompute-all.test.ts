import { expect, test } from 'vitest'
import { SPECTRUM_METHOD_VERSION } from '../../../src/estimate/spectrum/method-version.ts'
import { summaryOf } from '../../../src/log/index/summary.ts'
import { firstResult } from '../../../src/log/schema/reading-schema.ts'
import type { Log, LogView, Reading } from '../../../src/log/schema/types.ts'
import { isByOlderMethod } from '../../../src/session/log/older-method.ts'
import { olderReadings, recomputeAll } from '../../../src/session/log/recompute-all.ts'
import { savedSpectrum } from './saved-spectrum.ts'

/** As an earlier version left it: its name, and a figure somewhat off. */
function older(id: string, offK: number, inputs?: null): Reading {
  const reading = savedSpectrum()
  const first = firstResult(reading)
  if (first.kind !== 'temperature') throw new Error('no figure')
  const result = {
    ...first,
    methodVersion: 'spectrum 1',
    temperatureK: first.temperatureK - offK,
  }
  return { ...reading, id, result, ...(inputs === null ? { inputs } : {}) }
}

/** Only what computing again asks of a log. */
function logOf(readings: readonly Reading[]) {
  const held = new Map(readings.map((one) => [one.id, one]))
  const log = {
    get: async (id: string) => ({ state: 'sound' as const, reading: held.get(id)! }),
    recompute: async (id: string, of: object) => {
      const reading = held.get(id)!
      const recomputation = { at: '2026-03-15T10:00:00.000Z', inputs: null, details: null, ...of }
      held.set(id, {
        ...reading,
        recomputations: [...reading.recomputations, recomputation],
      } as Reading)
      return held.get(id)!
    },
  }
  const view = {
    count: held.size,
    summaries: () => [...held.values()].map(summaryOf),
  }
  return { log: log as unknown as Log, view: view as unknown as LogView, held }
}

test('figures of an older method are found, computed again, and tell by how much they moved', async () => {
  const { log, view, held } = logOf([older('a', 9), older('b', -4), older('c', 1, null)])
  expect(olderReadings(view)).toEqual(['a', 'b', 'c'])
  const counted: number[] = []
  const done = await recomputeAll(
    log,
    olderReadings(view),
    (reasons) => reasons.join(),
    (n) => counted.push(n),
  )
  expect(counted).toEqual([1, 2, 3])
  expect(done).toMatchObject({ kept: 2, lost: 0, left: ['c'] })
  expect(done.movedK![0]).toBeCloseTo(-4, 6)
  expect(done.movedK![1]).toBeCloseTo(9, 6)
  const now = summaryOf(held.get('a')!)
  expect(now.methodVersion).toBe(SPECTRUM_METHOD_VERSION)
  expect(now.movedK).toBeCloseTo(9, 6)
  // What could not be computed keeps its mark.
  expect(olderReadings(view)).toEqual(['c'])
})

test('readings by hand are of no method and never marked', () => {
  const of = { methodVersion: 'by hand', damaged: false, demo: false } as const
  expect(isByOlderMethod({ ...of, method: 'by hand' })).toBe(false)
  expect(isByOlderMethod({ ...of, method: 'photo' })).toBe(true)
})
