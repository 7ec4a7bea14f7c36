import { describe, expect, test } from 'vitest'
import type { Json } from '../../../src/log/schema/types.ts'
import { compareMaps, type MappedReading } from '../../../src/session/log/compare-maps.ts'
import { packedMap, storedMap } from '../../../src/session/log/stored-map.ts'
import { temperatureResult } from '../../log/opening.ts'
import { madeMap } from '../map/made-map.ts'

const MADE = madeMap()
const restored = (made: typeof MADE) =>
  storedMap(JSON.parse(JSON.stringify({ map: packedMap(made) })) as Json)!

describe('a map that is kept', () => {
  test('comes back cell by cell, in steps of a twentieth of a kelvin', () => {
    const { map } = restored(MADE)
    const planes = ['temperatureK', 'ownK', 'leaningK', 'levelLeaningK'] as const
    for (const plane of planes) {
      const off = MADE.map[plane].map((value, at) => Math.abs(value - map[plane][at]!))
      expect(Math.max(...off.filter(Number.isFinite)), plane).toBeLessThan(0.026)
      // What was not read has no number, and what was read has one.
      expect([...map[plane]].map(Number.isNaN)).toEqual([...MADE.map[plane]].map(Number.isNaN))
    }
    expect(Math.min(...map.leaningK.filter(Number.isFinite))).toBeLessThan(-0.9)
    expect(map.state).toEqual(MADE.map.state)
    const { columns, rows, side, left, top, marginPixels, blurPixels, closer, scale } = MADE.map
    const said = { columns, rows, side, left, top, marginPixels, blurPixels, closer, scale }
    expect(map).toMatchObject(said)
    expect(map.lnRed[1]).toBe(-1)
    expect(map.lnRed[17]).toBeNaN()
  })

  test('keeps how even it is, and that its blur is not known', () => {
    const { evenness } = restored(MADE)
    expect(evenness).toEqual(MADE.evenness)
    const blurred = { ...MADE, map: { ...MADE.map, blurPixels: Number.NaN } }
    expect(packedMap(blurred).blurPixels).toBeNull()
    expect(restored(blurred).map.blurPixels).toBeNaN()
  })

  test('keeps of a place that stands out where its middle lies', () => {
    const spot = {
      // Two by two cells from the second row and column on.
      cells: [41, 42, 81, 82],
      peak: 42,
      around: [2, 3],
      rise: 3,
      standardUncertainty: 4,
      across: 8,
    }
    const none = { ...spot, cells: [] }
    const evenness = { ...MADE.evenness, spots: [spot, none], surface: [spot] }
    const found = restored({ ...MADE, evenness }).evenness
    expect(found.spots).toEqual([
      { ...spot, cells: [82], around: [] },
      { ...none, around: [] },
    ])
    expect(found.surface).toEqual([{ ...spot, cells: [82], around: [] }])
  })

  test('is none where its cells do not unfold to its size, or are no text of cells', () => {
    const packed = packedMap(MADE)
    const read = (change: object) => storedMap({ map: { ...packed, ...change } } as unknown as Json)
    expect(read({})).not.toBeNull()
    const damaged = `AAAA${packed.cells.slice(4)}`
    for (const cells of ['', 'not base64!', btoa('no cells'), damaged, 7])
      expect(read({ cells }), String(cells).slice(0, 20)).toBeNull()
    for (const details of [null, {}, 'map', { map: null }])
      expect(storedMap(details as Json)).toBeNull()
  })
})

describe('two kept maps', () => {
  const reading = (change: object = {}) =>
    ({
      result: temperatureResult(1173),
      recomputations: [],
      inputs: null,
      details: { photo: { width: 400, height: 300 }, map: packedMap(MADE) },
      simulated: false,
      demo: false,
      object: 'bar',
      takenAt: { iso: '2026-05-04T10:00:00Z', zone: '' },
      ...change,
    }) as unknown as MappedReading
  const refusal = async (one: MappedReading, two: MappedReading) =>
    (await compareMaps(one, two, new AbortController().signal)).kind

  test('are not subtracted where one cannot be read, of another picture, or without a figure', async () => {
    const { map } = reading().details as { map: object }
    const sized = (photo: unknown) => reading({ details: { photo, map } })
    const none = { kind: 'none', reason: 'clipped', methodVersion: '1' }
    expect(await refusal(reading({ details: null }), reading())).toBe('unreadable')
    expect(await refusal(reading(), reading({ details: {} }))).toBe('unreadable')
    for (const other of [{ width: 300, height: 400 }, { width: 400, height: 200 }, null, {}])
      expect(await refusal(sized(other), reading()), JSON.stringify(other)).toBe('other size')
    expect(await refusal(sized(null), sized(null))).toBe('other size')
    expect(await refusal(reading({ result: none }), reading())).toBe('no figure')
  })

  test('are left alone where nobody waits for them any more', async () => {
    const stopped = compareMaps(reading(), reading(), AbortSignal.abort())
    await expect(stopped).rejects.toMatchObject({ name: 'AbortError' })
  })
})
