import { expect, test } from 'vitest'
import type { Log, Reading, Stored, Summary } from '../../../src/log/schema/types.ts'
import { keptMapsLike } from '../../../src/session/log/kept-maps.ts'

const SIZE = { width: 400, height: 300 }

interface Kept {
  readonly id: string
  readonly object?: string
  readonly width?: number
  readonly map?: boolean
  readonly simulated?: boolean
  readonly kind?: Summary['kind']
}

/** A log of readings, newest first. */
function logOf(kept: readonly Kept[]) {
  const log = {
    newest: async () =>
      kept.map(({ id, simulated = false, kind = 'temperature' }) => ({
        id,
        simulated,
        kind,
        damaged: false,
      })),
    get: async (wanted: string) => {
      const found = kept.find(({ id }) => id === wanted)!
      const photo = { ...SIZE, width: found.width ?? SIZE.width }
      const details = { photo, ...(found.map === false ? {} : { map: {} }) }
      const reading = { id: found.id, object: found.object ?? '', details } as unknown as Reading
      return { state: 'sound', reading } as Stored
    },
  }
  return log as unknown as Pick<Log, 'newest' | 'get'>
}

test('kept maps of one picture size are offered, those of the same object first, then the newest', async () => {
  const log = logOf([
    { id: 'other object', object: 'hook' },
    { id: 'no map', object: 'coil', map: false },
    { id: 'other camera', object: 'coil', width: 640 },
    { id: 'practice', object: 'coil', simulated: true },
    { id: 'only a bound', object: 'coil', kind: 'upper bound' },
    { id: 'before', object: 'coil' },
    { id: 'long before', object: 'coil' },
  ])
  const ids = (await keptMapsLike(log, SIZE, 'coil', false)).map(({ id }) => id)
  expect(ids).toEqual(['before', 'long before', 'other object'])
})

test('six are offered at most', async () => {
  const kept = Array.from({ length: 7 }, (_, i) => ({ id: `map ${i}`, object: 'coil' }))
  const offered = async (count: number) =>
    (await keptMapsLike(logOf(kept.slice(0, count)), SIZE, 'coil', false)).length
  expect(await offered(6)).toBe(6)
  expect(await offered(7)).toBe(6)
})
