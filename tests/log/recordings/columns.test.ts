import { describe, expect, test } from 'vitest'
import {
  bytesOfColumns,
  columnsOfBytes,
  emptyColumns,
  factsOfColumns,
  joinedColumns,
  type RecordingColumns,
} from '../../../src/log/recordings/columns.ts'
import { course } from './made-recordings.ts'

const rising = (count: number) => Array.from({ length: count }, (_, i) => 1000 + i)

describe('readings as bytes', () => {
  // What lies in databases since version 1 of the columns; IEEE 754 by hand.
  const ONE = [
    [1, 0, 0, 0],
    [1, 0, 0, 0],
    [0x10, 0x27, 0, 0],
    [0, 0, 0xa0, 0x44],
    [0, 0, 0, 0x3f],
    [0, 0, 0x40, 0x41],
    [0, 0, 0, 0xc0],
    [0, 0, 0x80, 0xbf],
    [5],
  ].flat()
  const reading = {
    ms: Uint32Array.of(10_000),
    temperatureK: Float32Array.of(1280),
    noiseK: Float32Array.of(0.5),
    commonK: Float32Array.of(12),
    lnRatio: Float32Array.of(-2),
    lnRed: Float32Array.of(-1),
    flags: Uint8Array.of(5),
  }

  test('are version, count, and column after column', () => {
    expect([...bytesOfColumns(reading)]).toEqual(ONE)
    expect(columnsOfBytes(Uint8Array.from(ONE))).toEqual(reading)
  })

  test('are read and written where they lie within others', () => {
    const within = Uint8Array.from([9, 9, 9, ...ONE, 9]).subarray(3, 3 + ONE.length)
    expect(columnsOfBytes(within)).toEqual(reading)
    const all = course(rising(3))
    const second = Object.fromEntries(
      Object.entries(all).map(([name, column]) => [name, column.subarray(1, 2)]),
    ) as unknown as RecordingColumns
    expect(columnsOfBytes(bytesOfColumns(second))?.temperatureK).toEqual(Float32Array.of(1001))
  })

  test('are none without a whole head, or with a reading more or less than they say', () => {
    expect(columnsOfBytes(Uint8Array.from(ONE.slice(0, 7)))).toBeUndefined()
    expect(columnsOfBytes(Uint8Array.from([1, 0, 0, 0, 0, 0, 0, 0]))?.ms).toHaveLength(0)
    expect(columnsOfBytes(Uint8Array.from([...ONE, 0]))).toBeUndefined()
    expect(columnsOfBytes(Uint8Array.from(ONE.with(4, 2)))).toBeUndefined()
    // Of another version.
    expect(columnsOfBytes(Uint8Array.from(ONE.with(0, 2)))).toBeUndefined()
  })

  test('of parts stand one after the other, in every column', () => {
    const all = course(rising(5))
    const part = (from: number, to: number) =>
      Object.fromEntries(
        Object.entries(all).map(([name, column]) => [name, column.slice(from, to)]),
      ) as unknown as RecordingColumns
    expect(joinedColumns([part(0, 2), part(2, 2), part(2, 5)])).toEqual(all)
    expect(joinedColumns([])).toEqual(emptyColumns(0))
  })
})

describe('what a list shows of a recording', () => {
  test('is its hottest reading with what is common there, and its coldest', () => {
    expect(factsOfColumns(course([1100, 1250, 900, Number.NaN, 1250], 500))).toEqual({
      readings: 5,
      durationSeconds: 2,
      lowestK: 900,
      highestK: 1250,
      // Of the first of two as hot.
      commonK: 9,
      spark: [1100, 1250, 900, null, 1250],
    })
  })

  test('is nothing where no reading has a temperature', () => {
    const none = { lowestK: null, highestK: null, commonK: null }
    expect(factsOfColumns(course([Number.NaN, Number.NaN]))).toMatchObject({
      ...none,
      spark: [null, null],
    })
    expect(factsOfColumns(emptyColumns(0))).toEqual({
      readings: 0,
      durationSeconds: 0,
      ...none,
      spark: [],
    })
    const unsaid = course([1200])
    unsaid.commonK[0] = Number.NaN
    expect(factsOfColumns(unsaid)).toMatchObject({ highestK: 1200, commonK: null })
  })

  test('is each reading to a tenth of a kelvin where there are fewer than 48, else 48 means', () => {
    expect(factsOfColumns(course([1000.26, 1000.34])).spark).toEqual([1000.3, 1000.3])
    expect(factsOfColumns(course(rising(47))).spark).toEqual(rising(47))
    // Without readings in the second half of the time, 48 of them leave its places empty, 47 cannot.
    const early = (count: number) => {
      const columns = course(rising(count))
      columns.ms[count - 1] = 2 * columns.ms[count - 1]!
      return factsOfColumns(columns).spark
    }
    expect(early(47)).toEqual(rising(47))
    const places = early(48)
    expect([places[0], places[23], places[24], places[46], places[47]]).toEqual([
      1000.5,
      1046,
      null,
      null,
      1047,
    ])
    // Two readings a place, three in the last; gaps of one reading and of a whole place.
    const long = rising(97)
    for (const gap of [10, 11, 21]) long[gap] = Number.NaN
    const { spark } = factsOfColumns(course(long))
    expect(spark).toEqual(
      Array.from({ length: 48 }, (_, place) => {
        if (place === 5) return null
        if (place === 10) return 1020
        return place === 47 ? 1095 : 1000.5 + 2 * place
      }),
    )
  })
})
