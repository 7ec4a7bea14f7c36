import { afterEach, describe, expect, it } from 'vitest'
import { DATABASE_VERSION } from '../../src/log/migrations/upgrade.ts'
import { LogError } from '../../src/log/schema/errors.ts'
import { dumpDatabase, putDatabase, readFixture } from './fixture-database.ts'
import { closeTestLogs, draft, freshName, openTestLog } from './opening.ts'

afterEach(closeTestLogs)

const id = (n: number) => `00000000-0000-4000-8000-${String(n).padStart(12, '0')}`

describe('a database of version 1', () => {
  async function upgraded() {
    const name = freshName()
    await putDatabase(name, readFixture(1))
    return { name, log: await openTestLog({ name }) }
  }

  it('keeps every reading with its values', async () => {
    const { log } = await upgraded()
    expect(await log.count()).toBe(7)
    expect(await log.get(id(1))).toMatchObject({
      state: 'sound',
      reading: {
        version: 2,
        takenAt: { iso: '2024-11-01T09:30:00+01:00', zone: '' },
        method: 'photo',
        simulated: false,
        object: 'Kiln shelf',
        material: 'oxidised steel',
        notes: "Brushed first, dörte's shelf",
        result: {
          kind: 'temperature',
          temperatureK: 1173.4,
          standardUncertaintyK: 65,
          expandedUncertaintyK: 130,
          interval95K: [1043.4, 1303.4],
          methodVersion: '0.1',
        },
        inputs: { glow: { mean: [0.8, 0.09, 0.01] } },
      },
    })
    expect(await log.get(id(2))).toMatchObject({ reading: { simulated: true } })
    expect(await log.get(id(3))).toMatchObject({
      reading: { result: { kind: 'upper bound', temperatureK: 890 }, chromaticity: null },
    })
    expect(await log.get(id(4))).toMatchObject({ reading: { result: { kind: 'none' } } })
  })

  it('converts chromaticity by the CIE relation', async () => {
    const { log } = await upgraded()
    const stored = await log.get(id(1))
    const c = stored?.state === 'sound' ? stored.reading.chromaticity : null
    // CIE 15: u' = 4x/(-2x+12y+3), v' = 9y/(-2x+12y+3); by hand for x 0.6012, y 0.3798.
    expect(c?.u).toBeCloseTo(2.4048 / 6.3552, 12)
    expect(c?.v).toBeCloseTo(3.4182 / 6.3552, 12)
  })

  it('keeps the picture byte for byte', async () => {
    const { log } = await upgraded()
    const former = readFixture(1).stores.find((store) => store.name === 'pictures')
    const { bytes } = former!.records[0]!.value as { bytes: ArrayBuffer }
    const picture = await log.picture(id(5))
    expect(picture?.type).toBe('image/png')
    expect(new Uint8Array(await picture!.arrayBuffer())).toEqual(new Uint8Array(bytes))
    expect(await log.get(id(5))).toMatchObject({ reading: { picture: { width: 1, height: 1 } } })
  })

  it('lists what it cannot understand as damaged, with its raw text', async () => {
    const { log } = await upgraded()
    const damage = await log.check()
    expect(damage.map((d) => d.id).sort()).toEqual([id(6), 'not a uuid'])
    expect(JSON.parse(damage.find((d) => d.id === id(6))!.raw)).toMatchObject({
      former: { temperatureK: 'hot', object: 'Damaged on disk' },
    })
    const listed = (await log.find({ damaged: true })).ids()
    expect(listed.sort()).toEqual([id(6), 'not a uuid'])
    expect((await log.newest(10)).filter((s) => s.damaged)).toHaveLength(2)
    // By its own time where that can be read, after all others where not.
    expect((await log.newest(10)).map((s) => s.id)).toEqual(
      [6, 5, 4, 3, 2, 1].map(id).concat('not a uuid'),
    )
  })

  it('carries the kit over, and searches old readings', async () => {
    const { log } = await upgraded()
    const { items, damaged } = await log.kit.list()
    expect(items).toMatchObject([{ name: 'Grey card', kind: 'grey reference' }])
    expect(damaged).toHaveLength(1)
    expect((await log.find({ text: 'dorte SHELF' })).ids()).toEqual([id(1)])
  })

  it('counts measured readings as not backed up', async () => {
    const { log } = await upgraded()
    // Five measured ones less the damaged two, and two kit items.
    expect((await log.status()).unsavedElsewhere).toBe(4 + 2)
  })

  it('goes on as any other log', async () => {
    const { log, name } = await upgraded()
    const saved = await log.add(draft())
    await log.edit(id(1), { notes: 'edited' })
    const again = await openTestLog({ name })
    expect(await again.count()).toBe(8)
    expect(await again.get(saved.id)).toMatchObject({ state: 'sound' })
    expect(await again.get(id(1))).toMatchObject({
      reading: { history: [{ values: { notes: "Brushed first, dörte's shelf" } }] },
    })
  })

  it('has the stores and indexes of a later one', async () => {
    const { name } = await upgraded()
    const shapeOf = ({ stores }: ReturnType<typeof readFixture>) =>
      stores.map(({ records: _, ...shape }) => shape)
    const now = shapeOf(await dumpDatabase(name))
    const added = now.filter((store) => store.name.startsWith('recording'))
    expect(now).toEqual(expect.arrayContaining(shapeOf(readFixture(2))))
    expect(added).toEqual([
      { name: 'recordingChunks', keyPath: ['id', 'number'], autoIncrement: false, indexes: [] },
      { name: 'recordingDetails', keyPath: 'id', autoIncrement: false, indexes: [] },
      {
        name: 'recordings',
        keyPath: 'id',
        autoIncrement: false,
        indexes: [{ name: 'removed', keyPath: 'removedAtMs', unique: false }],
      },
    ])
    expect(now).toHaveLength(readFixture(2).stores.length + 3)
  })

  it('stays as it was when the upgrade fails', async () => {
    const name = freshName()
    await putDatabase(name, readFixture(1))
    const add = IDBObjectStore.prototype.add
    let calls = 0
    IDBObjectStore.prototype.add = function (...args) {
      if (this.name === 'readings' && ++calls === 4) throw new Error('disk trouble')
      return add.apply(this, args)
    }
    try {
      const error = await openTestLog({ name }).catch((e: unknown) => e)
      expect(error).toBeInstanceOf(LogError)
      expect((error as LogError).code).toBe('upgrade failed')
    } finally {
      IDBObjectStore.prototype.add = add
    }
    expect(await dumpDatabase(name)).toEqual(readFixture(1))
    expect(await (await openTestLog({ name })).count()).toBe(7)
  })
})

describe('a database of version 2', () => {
  it('opens as it is', async () => {
    const name = freshName()
    await putDatabase(name, readFixture(2))
    const log = await openTestLog({ name })
    expect(await log.check()).toEqual([])
    expect(await log.count()).toBe(4)
    const rows = readFixture(2).stores.find((store) => store.name === 'readings')!.records
    const inputTexts = readFixture(2).stores.find((store) => store.name === 'inputs')!.records
    for (const { value } of rows) {
      const row = value as { id: string; seq: number; json: string; removedAtMs?: number }
      if (row.removedAtMs !== undefined) continue
      const stored = await log.get(row.id)
      if (stored?.state !== 'sound') throw new Error(`${row.id} is damaged`)
      const { inputs, details, recomputations, ...rest } = stored.reading
      expect(JSON.parse(row.json)).toMatchObject(rest)
      const blobs = [inputs, details, ...recomputations.flatMap((r) => [r.inputs, r.details])]
      const kept = inputTexts.find(({ key }) => key === row.seq)?.value as string | undefined
      expect(blobs).toEqual(kept === undefined ? [null, null] : JSON.parse(kept))
    }
    const all = (await log.find()).summaries()
    expect(all.map((s) => [s.object, s.method, s.kind, s.temperatureK])).toEqual([
      ['Dark', 'photo', 'none', null],
      ['Dull bar', 'photo', 'upper bound', 880],
      ['Practice bar', 'practice', 'temperature', 1173],
      ['Kiln shelf', 'photo', 'temperature', 1180],
    ])
    expect((await log.removed()).map((s) => s.object)).toEqual(['Removed'])
    expect((await log.kit.list()).items.map((item) => item.name)).toEqual(['Bench lamp'])
    expect(await log.settings.get('unit')).toBe('K')
  })
})

describe('a database of a newer version', () => {
  it('is left alone', async () => {
    const name = freshName()
    const newer = { ...readFixture(1), version: DATABASE_VERSION + 1 }
    await putDatabase(name, newer)
    const error = await openTestLog({ name }).catch((e: unknown) => e)
    expect((error as LogError).code).toBe('version newer')
    expect(await dumpDatabase(name)).toEqual(newer)
  })
})
