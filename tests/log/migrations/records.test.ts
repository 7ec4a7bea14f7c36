import { afterEach, describe, expect, test } from 'vitest'
import { kitItemFromVersion1, readingFromVersion1 } from '../../../src/log/migrations/records.ts'
import { type DatabaseDump, dumpDatabase, putDatabase, readFixture } from '../fixture-database.ts'
import { closeTestLogs, freshName, openTestLog } from '../opening.ts'

afterEach(closeTestLogs)

const ID = '00000000-0000-4000-8000-000000000001'
/** As version 1 kept one. */
const FORMER = {
  id: ID,
  takenAt: '2024-11-01T09:30:00+01:00',
  method: 'photo',
  temperatureK: 1173.5,
  expandedUncertaintyK: 130,
  upperBoundK: null,
  object: 'Kiln shelf',
  material: 'steel',
  notes: 'brushed',
  x: 0.6,
  y: 0.38,
  methodVersion: '0.1',
  inputs: { a: 1 },
}
const FACTS = { type: 'image/png', width: 1, height: 2, bytes: 3, crc32: 4 } as const

describe('a reading of version 1', () => {
  test('is one of today, with what was kept then and nothing more', () => {
    expect(readingFromVersion1(FORMER, FACTS)).toEqual({
      version: 2,
      id: ID,
      savedAt: FORMER.takenAt,
      takenAt: { iso: FORMER.takenAt, zone: '' },
      method: 'photo',
      simulated: false,
      demo: false,
      result: {
        kind: 'temperature',
        temperatureK: 1173.5,
        standardUncertaintyK: 65,
        expandedUncertaintyK: 130,
        interval95K: [1043.5, 1303.5],
        budget: [],
        methodVersion: '0.1',
      },
      object: 'Kiln shelf',
      material: 'steel',
      notes: 'brushed',
      tags: [],
      series: null,
      supply: null,
      place: '',
      roomTemperatureK: null,
      cover: '',
      // CIE 15, equation 8.4, by hand: 2.4/6.36 and 3.42/6.36.
      chromaticity: {
        x: 0.6,
        y: 0.38,
        u: expect.closeTo(2.4 / 6.36, 12) as number,
        v: expect.closeTo(3.42 / 6.36, 12) as number,
        cctK: null,
        duv: null,
      },
      swatch: null,
      picture: FACTS,
      parts: [],
      inputs: { a: 1 },
      details: null,
      history: [],
      recomputations: [],
    })
  })

  test('has a temperature, a bound or nothing, as far as it has both numbers', () => {
    const result = (change: object) => readingFromVersion1({ ...FORMER, ...change }, null)?.result
    const none = { kind: 'none', reason: 'not kept', methodVersion: '0.1' }
    const bound = { kind: 'upper bound', temperatureK: 890, methodVersion: '0.1' }
    expect(result({ temperatureK: null })).toEqual(none)
    expect(result({ expandedUncertaintyK: null })).toEqual(none)
    expect(result({ temperatureK: null, upperBoundK: 890 })).toEqual(bound)
    expect(result({ expandedUncertaintyK: null, upperBoundK: 890 })).toEqual(bound)
    expect(result({ upperBoundK: 890 })).toMatchObject({ kind: 'temperature' })
  })

  test('has a chromaticity where it has both coordinates, and such as there are', () => {
    const of = (x: number | null, y: number | null) =>
      readingFromVersion1({ ...FORMER, x, y }, null)?.chromaticity
    expect(of(null, 0.38)).toBeNull()
    expect(of(0.6, null)).toBeNull()
    // -2x + 12y + 3 is not above 0.
    expect(of(1.5, 0)).toBeNull()
    expect(of(1.4, 0)).toMatchObject({ x: 1.4, y: 0, v: 0 })
  })

  test('is simulated where it was practice; what is none is none', () => {
    expect(readingFromVersion1({ ...FORMER, method: 'practice' }, null)).toMatchObject({
      simulated: true,
      picture: null,
    })
    for (const wrong of [null, 7, {}, { ...FORMER, more: 1 }, { ...FORMER, id: '1' }])
      expect(readingFromVersion1(wrong, null)).toBeUndefined()
    // In the range of then, and not in that of today.
    expect(readingFromVersion1({ ...FORMER, temperatureK: 90_000 }, null)).toBeUndefined()
  })
})

test('a thing of the kit of version 1 is a grey reference of today', () => {
  const former = { id: ID, name: 'Grey card', date: '2024-10-01T12:00:00Z', data: { gains: [1] } }
  expect(kitItemFromVersion1(former)).toEqual({
    version: 1,
    id: ID,
    kind: 'grey reference',
    addedAt: former.date,
    simulated: false,
    demo: false,
    name: 'Grey card',
    date: { iso: former.date, zone: '' },
    notes: '',
    cameraId: null,
    balanceState: null,
    temperatureK: null,
    standardUncertaintyK: null,
    data: { gains: [1] },
  })
  for (const wrong of [null, { ...former, name: 7 }, { ...former, kind: 'lamp' }])
    expect(kitItemFromVersion1(wrong)).toBeUndefined()
})

describe('a database of version 1, row by row', () => {
  async function upgraded(change: (dump: DatabaseDump) => DatabaseDump = (dump) => dump) {
    const name = freshName()
    await putDatabase(name, change(readFixture(1)))
    const log = await openTestLog({ name })
    const { stores } = await dumpDatabase(name)
    const of = (store: string) => stores.find((one) => one.name === store)!.records
    const state = of('state').find(({ key }) => key === 'state')!.value
    return { log, of, state }
  }
  type Row = { seq: number; id: string; change?: number; listedAtMs: number }

  test('numbers readings, and changes of what a backup should hold', async () => {
    const { of, state } = await upgraded()
    const rows = of('readings').map(({ value }) => value as Row)
    expect(rows.map(({ seq }) => seq)).toEqual([0, 1, 2, 3, 4, 5, 6])
    // The second is practice, the last two are damaged.
    expect(rows.map(({ change }) => change)).toEqual([1, undefined, 2, 3, 4, undefined, undefined])
    expect(of('kit').map(({ value }) => (value as Row).change)).toEqual([5, 6])
    expect(state).toEqual({ nextSeq: 7, change: 6, listed: 7, blocksVersion: 0 })
    expect(of('inputs').map(({ key }) => key)).toEqual([0, 1, 3, 4])
    // By its own time, or before all others where that cannot be read.
    expect(rows[5]!.listedAtMs).toBe(Date.parse('2024-11-06T09:30:00+01:00'))
    expect(rows[6]!.listedAtMs).toBe(0)
  })

  test('that was empty has no summaries to be made', async () => {
    const empty = (dump: DatabaseDump) => ({
      ...dump,
      stores: dump.stores.map((store) => ({ ...store, records: [] })),
    })
    const { log, state } = await upgraded(empty)
    expect(state).toMatchObject({ nextSeq: 0, listed: 0, blocksVersion: 2 })
    expect((await log.find()).count).toBe(0)
  })

  test('keeps what is left of a picture that cannot be understood with its reading', async () => {
    const { log } = await upgraded((dump) => ({
      ...dump,
      stores: dump.stores.map((store) => ({
        ...store,
        records: store.records.map((record) =>
          store.name === 'pictures'
            ? { ...record, value: { ...(record.value as object), type: 'image/gif' } }
            : record,
        ),
      })),
    }))
    expect(await log.get('00000000-0000-4000-8000-000000000005')).toMatchObject({
      state: 'sound',
      reading: { object: 'With picture', picture: null },
    })
  })
})
