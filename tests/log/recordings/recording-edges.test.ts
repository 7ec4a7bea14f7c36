import { afterEach, describe, expect, test, vi } from 'vitest'
import { purgeRecordings } from '../../../src/log/recordings/recordings.ts'
import { dumpDatabase, tamper } from '../fixture-database.ts'
import { closeTestLogs, failureOf, freshName, openTestLog } from '../opening.ts'
import { course, RECORDING } from './made-recordings.ts'

afterEach(() => {
  closeTestLogs()
  vi.restoreAllMocks()
})

async function recordingsIn(name: string) {
  const { stores } = await dumpDatabase(name)
  const of = (store: string) => stores.find((one) => one.name === store)!.records
  return {
    heads: of('recordings'),
    chunks: of('recordingChunks'),
    details: of('recordingDetails'),
  }
}
const idsOf = (records: readonly { value: unknown }[]) =>
  records.map(({ value }) => (value as { id: string }).id)

describe('a recording under way', () => {
  test('says nothing of its piece that nobody has said, and is one part when it has ended', async () => {
    const name = freshName()
    const log = await openTestLog({ name })
    const heard: string[] = []
    log.subscribe(({ kind }) => heard.push(kind))
    const writer = await log.recordings.begin(RECORDING)
    await writer.append(course([1200, 1190]))
    await writer.append(course([1180]))
    expect(heard).toEqual(['recordings'])
    const head = await writer.end('by limit', (all) => ({
      ...all,
      commonK: Float32Array.of(7, 8, 9),
    }))
    expect(heard).toEqual(['recordings', 'recordings'])
    expect(head).toMatchObject({
      savedAt: expect.stringMatching(/^2025-03-01T10:0\d:\d\d\.000Z$/),
      object: '',
      material: '',
      notes: '',
      cover: '',
      marks: [],
      ended: 'by limit',
      commonK: 7,
    })
    expect((await recordingsIn(name)).chunks).toHaveLength(1)
    expect([...(await log.recordings.get(writer.id))!.columns.commonK]).toEqual([7, 8, 9])
  })

  test('was cut off until it ends, and is not deleted meanwhile', async () => {
    const name = freshName()
    const { recordings } = await openTestLog({ name })
    const writer = await recordings.begin(RECORDING)
    const [row] = (await recordingsIn(name)).heads
    expect(JSON.parse((row!.value as { json: string }).json)).toMatchObject({
      ended: 'cut off',
      readings: 0,
    })
    expect(await recordings.remove([writer.id])).toEqual({ ids: [] })
    await writer.end('by hand')
    expect((await recordings.list()).items).toMatchObject([{ id: writer.id, ended: 'by hand' }])
  })

  test('that cannot begin counts as none that is running', async () => {
    const name = freshName()
    const first = await openTestLog({ name, newId: () => '00000000-0000-4000-8000-000000000001' })
    vi.spyOn(IDBObjectStore.prototype, 'put').mockImplementationOnce(() => {
      throw new DOMException('no more', 'QuotaExceededError')
    })
    expect(await failureOf(first.recordings.begin(RECORDING))).toMatchObject({
      code: 'storage full',
    })
    // One of this id that runs nowhere, as a killed page leaves it, is ended.
    await first.recordings.add(RECORDING, course([1200]), null)
    const [row] = (await recordingsIn(name)).heads
    await tamper(name, 'recordings', (store) => {
      store.put({ ...(row!.value as object), running: true })
    })
    expect(await first.recordings.list()).toMatchObject({ items: [{ readings: 1 }], running: 0 })
  })

  test('whose head is gone cannot end', async () => {
    const name = freshName()
    const { recordings } = await openTestLog({ name })
    const writer = await recordings.begin(RECORDING)
    await tamper(name, 'recordings', (store) => store.clear())
    expect(await failureOf(writer.end('by hand'))).toEqual({ code: 'not found', id: writer.id })
  })

  test('that a killed page left damaged does not keep the others from the list', async () => {
    const name = freshName()
    const { recordings } = await openTestLog({ name })
    const broken = await recordings.begin(RECORDING)
    await broken.append(course([1200]))
    const sound = await recordings.begin(RECORDING)
    await sound.append(course([1210]))
    await tamper(name, 'recordingChunks', (store) => {
      store.put({ id: broken.id, number: 0, bytes: new Uint8Array(8), crc32: 1 })
    })
    const { forgetRunning } = await import('../../../src/log/recordings/running-lock.ts')
    forgetRunning()
    const { items, running } = await recordings.list()
    expect(items.map(({ id }) => id)).toEqual([sound.id])
    expect(running).toBe(1)
  })
})

describe('recordings in the list', () => {
  test('are newest first, by the moment whatever their zone, and of one moment by their id', async () => {
    let n = 9
    const newId = () => `00000000-0000-4000-8000-00000000000${n--}`
    const { recordings } = await openTestLog({ newId })
    for (const iso of [
      '2025-03-01T10:00:00Z',
      '2025-03-01T11:30:00+01:00',
      '2025-03-01T10:00:00Z',
    ]) {
      await recordings.add({ ...RECORDING, startedAt: { iso, zone: '' } }, course([1200]), null)
    }
    const { items } = await recordings.list()
    expect(items.map(({ startedAt, id }) => [startedAt.iso.slice(11, 16), id.at(-1)])).toEqual([
      ['11:30', '7'],
      ['10:00', '6'],
      ['10:00', '8'],
    ])
  })

  test('are found damaged by their check sums: head, readings and details', async () => {
    const name = freshName()
    const log = await openTestLog({ name })
    const { recordings } = log
    const { id } = await recordings.add(RECORDING, course([1200]), { why: 'all' })
    const [head] = (await recordingsIn(name)).heads
    const [part] = (await recordingsIn(name)).chunks
    const [detail] = (await recordingsIn(name)).details

    await tamper(name, 'recordingDetails', (store) => {
      store.put({ ...(detail!.value as object), json: '{"why":"none"}' })
    })
    expect(await recordings.get(id)).toMatchObject({ head: { id }, details: null })
    await tamper(name, 'recordingDetails', (store) => store.clear())
    expect(await recordings.get(id)).toMatchObject({ head: { id }, details: null })

    const { bytes, ...rest } = part!.value as { bytes: Uint8Array }
    const changed = bytes.slice()
    changed[12]! ^= 1
    await tamper(name, 'recordingChunks', (store) => store.put({ ...rest, bytes: changed }))
    expect(await failureOf(recordings.get(id))).toEqual({
      code: 'damaged',
      id,
      where: 'readings, part 1',
    })

    const { json } = head!.value as { json: string }
    const raw = json.replace('"video"', '"table"')
    await tamper(name, 'recordings', (store) => {
      store.put({ ...(head!.value as object), json: raw })
    })
    expect(await recordings.list()).toMatchObject({ items: [], damaged: [{ id, raw }] })
    expect(await failureOf(recordings.get(id))).toMatchObject({ code: 'damaged', id })
  })
})

describe('a recording that is kept', () => {
  test('is told of whenever it changes', async () => {
    const log = await openTestLog()
    const heard: string[] = []
    log.subscribe(({ kind }) => heard.push(kind))
    const { id } = await log.recordings.add(RECORDING, course([1200]), null)
    const stored = (await log.recordings.get(id))!
    await log.recordings.put(stored.head, course([1300, 1310]), 'again')
    await log.recordings.change(id, { object: 'Bar' })
    const undo = await log.recordings.remove([id])
    await log.recordings.restore(undo)
    expect(heard).toEqual(new Array(5).fill('recordings'))
    expect(await log.recordings.get(id)).toMatchObject({
      head: { ...stored.head, object: 'Bar' },
      columns: course([1300, 1310]),
      details: 'again',
    })
  })

  test('keeps what a change leaves out; a deleted one cannot be changed, nor deleted again', async () => {
    const { recordings } = await openTestLog()
    const other = await recordings.add({ ...RECORDING, object: 'other' }, course([1200]), null)
    const head = await recordings.add({ ...RECORDING, object: 'Bar' }, course([1200]), null)
    expect(head.ended).toBe('by hand')
    expect(await recordings.change(head.id, { material: 'steel' })).toEqual({
      ...head,
      material: 'steel',
    })
    expect(await recordings.remove([head.id, 'no such', head.id])).toEqual({ ids: [head.id] })
    expect(await failureOf(recordings.change(head.id, { notes: 'x' }))).toEqual({
      code: 'not found',
      id: head.id,
    })
    expect((await recordings.list()).items).toEqual([other])
    await recordings.restore({ ids: ['no such', other.id, head.id] })
    expect((await recordings.list()).items).toHaveLength(2)
  })

  test('is refused with what is wrong: its head, a change, its details', async () => {
    const { recordings } = await openTestLog()
    const wrong = (draft: object, details: unknown = null) =>
      failureOf(recordings.add({ ...RECORDING, ...draft }, course([1200]), details as never))
    expect(await wrong({ cameraId: 7 })).toMatchObject({
      code: 'not a recording',
      where: expect.stringContaining('cameraId'),
    })
    expect(await wrong({}, Number.NaN)).toEqual({
      code: 'not a recording',
      where: 'details: not plain data',
    })
    const { id } = await recordings.add(RECORDING, course([1200]), null)
    const marks = [{ seconds: -1, name: '', note: '' }]
    expect(await failureOf(recordings.change(id, { marks }))).toMatchObject({
      code: 'not a recording',
      where: expect.stringContaining('marks.0.seconds'),
    })
    expect((await recordings.list()).items).toHaveLength(1)
  })
})

describe('a deleted recording', () => {
  test('goes for good when its time has come, and nothing of the others goes with it', async () => {
    const name = freshName()
    let now = new Date('2025-03-01T10:00:00Z')
    const log = await openTestLog({ name, now: () => now })
    const [kept, due, later] = [
      await log.recordings.add(RECORDING, course([1200]), 'kept'),
      await log.recordings.add(RECORDING, course([1210]), 'due'),
      await log.recordings.add(RECORDING, course([1220]), 'later'),
    ]
    await log.recordings.remove([due!.id])
    now = new Date('2025-03-01T10:00:01Z')
    await log.recordings.remove([later!.id])
    now = new Date('2025-03-02T10:00:00Z')
    await openTestLog({ name, now: () => now })
    await expect.poll(async () => (await recordingsIn(name)).heads.length).toBe(2)
    const { heads, chunks, details } = await recordingsIn(name)
    for (const records of [heads, chunks, details])
      expect(idsOf(records).sort()).toEqual([kept!.id, later!.id].sort())
  })

  test('that another tab has restored meanwhile stays', async () => {
    const deleted: string[] = []
    const store = (of: string) => ({
      index: () => ({ getAllKeys: async () => ['back', 'gone', 'purged elsewhere'] }),
      get: async (id: string) =>
        ({ back: { id }, gone: { id, removedAtMs: 1 } })[id as 'back' | 'gone'],
      delete: async () => deleted.push(of),
    })
    const run = async (_: unknown, work: (tx: unknown) => unknown) => work({ objectStore: store })
    await purgeRecordings({ db: { read: run, write: run } as never }, 2)
    // Of the one that is still deleted.
    expect(deleted).toEqual(['recordings', 'recordingChunks', 'recordingDetails'])
  })
})
