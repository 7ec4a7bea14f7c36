import { describe, expect, test } from 'vitest'
import type { Json } from '../../../src/log/schema/types.ts'
import { packedMap, type StoredMap, storedMap } from '../../../src/session/log/stored-map.ts'
import { madeMap } from '../map/made-map.ts'

const PACKED = packedMap(madeMap())
const read = (change: object) => storedMap({ map: { ...PACKED, ...change } } as unknown as Json)
const scale = (change: object) => ({ scale: { ...PACKED.scale, ...change } })
const rows = (count: number) => {
  const steps = Array.from({ length: count }, (_, i) => i)
  return scale({ byRatio: { x: steps, overK: steps, leaningK: steps } })
}
const spot = { cells: [], peak: 1, around: [], rise: 1, standardUncertainty: 1, across: 1 }
const spots = (count: number) => ({
  evenness: { ...PACKED.evenness, spots: new Array(count).fill(spot) },
})
/** The same cells in other rows: 800 in all. */
const shaped = (columns: number, count: number) => ({ columns, rows: count })

describe('a map that the log has kept is shown', () => {
  test('as it was', () => {
    const found = read({})!
    expect(found.map).toMatchObject({ columns: 40, rows: 20, side: 4, left: 100, top: 50 })
    expect(found.map.temperatureK[100]).toBeCloseTo(madeMap().map.temperatureK[100]!, 1)
    expect(found.map.temperatureK[17]).toBeNaN()
  })

  // Each on both sides: what is shown, and what is not.
  test.each<readonly [string, object, object]>([
    ['with cells of half a pixel and more', { side: 0.5 }, { side: 0.45 }],
    ['within a picture of 100,000 pixels', { left: 100_000 }, { left: 110_000 }],
    ['where no cell is nearer than the reading', { closer: 1 }, { closer: 0.9 }],
    [
      'about a temperature at which metal is',
      scale({ temperatureK: 50 }),
      scale({ temperatureK: 49 }),
    ],
    [
      'about a temperature up to 20,000 K',
      scale({ temperatureK: 20_000 }),
      scale({ temperatureK: 20_001 }),
    ],
    ['with three rows of its scale', rows(3), rows(2)],
    ['with twenty rows of its scale', rows(20), rows(21)],
    ['with ten spots', spots(10), spots(11)],
    ['of 400 cells along a side', shaped(400, 2), shaped(800, 1)],
    ['of the size that it says', shaped(20, 40), shaped(20, 41)],
  ])('%s', (_, inside, outside) => {
    expect(read(inside)).not.toBeNull()
    expect(read(outside)).toBeNull()
  })

  test('whose places lie on it and were read', () => {
    const at = (peak: number) =>
      read({ evenness: { ...PACKED.evenness, spots: [{ ...spot, peak }] } })
    expect(at(1)).not.toBeNull()
    expect(at(17)).toBeNull()
    expect(at(800)).toBeNull()
  })

  test('whatever it is of, in numbers that rise and states that there are', () => {
    const falling = { x: [0, 1, 2], overK: [0, -1, -2], leaningK: [0, 0, 0] }
    expect(read(scale({ byRatio: falling }))).toBeNull()
    // By level the table may fall.
    expect(read(scale({ byLevel: falling }))).not.toBeNull()
    expect(read(scale({ byLevel: { ...falling, x: [0, 0, 1] } }))).toBeNull()
    expect(read({ cells: 'not base64!' })).toBeNull()
    expect(read({ cells: 'AAAA' })).toBeNull()
    expect(read({ evenness: { ...PACKED.evenness, hottest: 17 } })).toBeNull()
    expect(read({ evenness: { ...PACKED.evenness, coolest: 800 } })).toBeNull()
    expect(read({ blurPixels: null } satisfies Partial<StoredMap>)?.map.blurPixels).toBeNaN()
  })
})
