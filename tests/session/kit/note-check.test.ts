import { expect, test } from 'vitest'
import type { Json, Log } from '../../../src/log/schema/types.ts'
import { noteCheck } from '../../../src/session/kit/note-check.ts'
import { curveItem, toneCurve } from './items.ts'

/** A kit of one entry that remembers what it is changed to. */
function kitOf(data: Json) {
  const item = { ...curveItem('c', toneCurve('srgb')), data }
  const changes: unknown[] = []
  const kit = {
    get: async (id: string) => (id === 'c' ? item : undefined),
    change: async (...change: unknown[]) => void changes.push(change),
  }
  return { log: Promise.resolve({ kit } as unknown as Log), changes }
}

const AT = '2026-11-01T12:00:00.000Z'
const CHECKED = { kind: 'checked', residual: 0.012, misfit: 0.4, agrees: true } as const

test('a check is written to the curve’s entry beside what stands there', async () => {
  const { log, changes } = kitOf({ curveId: 'made-up stream' })
  await noteCheck(log, 'c', CHECKED, AT)
  const check = { at: AT, residual: 0.012, agrees: true }
  expect(changes).toEqual([['c', { data: { curveId: 'made-up stream', check } }]])
})

test('one that was not possible changes nothing, nor one of a curve that is gone', async () => {
  const { log, changes } = kitOf({})
  await noteCheck(log, 'c', { kind: 'not possible', reason: 'moved' }, AT)
  await noteCheck(log, 'gone', CHECKED, AT)
  expect(changes).toEqual([])
})
