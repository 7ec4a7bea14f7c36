import { openDB } from 'idb'
import { afterEach, describe, expect, test } from 'vitest'
import {
  bytesOfColumns,
  columnsOfBytes,
  emptyColumns,
  FLAGS,
  factsOfColumns,
  type RecordingColumns,
} from '../../../src/log/recordings/columns.ts'
import type { NewRecording } from '../../../src/log/recordings/types.ts'
import { closeTestLogs, failureOf, freshName, openTestLog } from '../opening.ts'

afterEach(closeTestLogs)

const RECORDING: NewRecording = {
  source: 'live',
  simulated: false,
  startedAt: { iso: '2025-03-01T11:00:00.000+01:00', zone: 'Europe/Vienna' },
  cameraId: 'a camera',
  methodVersion: '1',
  object: 'Bar in the air',
}

/** Ten readings a second that cool by a kelvin each; every tenth is lost. */
function columns(count: number, from = 0): RecordingColumns {
  const made = emptyColumns(count)
  for (let i = 0; i < count; i++) {
    const lost = (from + i) % 10 === 9
    made.ms[i] = 100 * (from + i)
    made.temperatureK[i] = lost ? Number.NaN : 1300 - (from + i)
    made.noiseK[i] = 0.5
    made.commonK[i] = 12
    made.flags[i] = lost ? FLAGS.lost : 0
  }
  return made
}

describe('columns', () => {
  test('come back from their bytes, gaps and all', () => {
    const made = columns(25)
    expect(columnsOfBytes(bytesOfColumns(made))).toEqual(made)
  })

  test('bytes that are cut short, or of a later version, are none', () => {
    const bytes = bytesOfColumns(columns(25))
    expect(columnsOfBytes(bytes.subarray(0, -1))).toBeUndefined()
    bytes[0] = 9
    expect(columnsOfBytes(bytes)).toBeUndefined()
    expect(columnsOfBytes(new Uint8Array(3))).toBeUndefined()
  })

  test('two hours at ten a second are 1.8 MB', () => {
    expect(bytesOfColumns(emptyColumns(72_000)).length).toBeLessThan(1.9e6)
  })

  test('say lowest, highest and a small curve', () => {
    const facts = factsOfColumns(columns(1000))
    expect(facts).toMatchObject({ readings: 1000, highestK: 1300, lowestK: 302, commonK: 12 })
    expect(facts.durationSeconds).toBeCloseTo(99.9)
    expect(facts.spark).toHaveLength(48)
    expect(facts.spark[0]).toBeGreaterThan(facts.spark[47]!)
  })
})

describe('a recording', () => {
  test('that ends is one entry with all of its readings', async () => {
    const { recordings } = await openTestLog()
    const writer = await recordings.begin(RECORDING)
    expect(await recordings.list()).toMatchObject({ items: [], running: 1 })
    await writer.append(columns(10))
    await writer.append(columns(10, 10))
    await writer.keepDetails({ looks: [1, 2] })
    await writer.keepMarks([{ seconds: 0.7, name: 'Power off', note: '' }])
    const head = await writer.end('by hand')
    expect(head).toMatchObject({ readings: 20, highestK: 1300, object: 'Bar in the air' })
    expect(head.marks).toEqual([{ seconds: 0.7, name: 'Power off', note: '' }])
    expect(await recordings.list()).toEqual({ items: [head], damaged: [], running: 0 })
    const stored = await recordings.get(head.id)
    expect(stored?.columns).toEqual(columns(20))
    expect(stored?.details).toEqual({ looks: [1, 2] })
  })

  test('whose browser was killed is there up to its last part when the log opens again', async () => {
    const name = freshName()
    const first = await openTestLog({ name })
    const writer = await first.recordings.begin(RECORDING)
    await writer.append(columns(10))
    await writer.append(columns(10, 10))
    first.close()
    // The page is gone, and with it what it said of running.
    const { forgetRunning } = await import('../../../src/log/recordings/running-lock.ts')
    forgetRunning()
    const again = await openTestLog({ name })
    const { items, running } = await again.recordings.list()
    expect(running).toBe(0)
    expect(items).toMatchObject([{ id: writer.id, readings: 20, ended: 'cut off' }])
    expect((await again.recordings.get(writer.id))?.columns).toEqual(columns(20))
  })

  test('is deleted, and comes back', async () => {
    const { recordings } = await openTestLog()
    const { id } = await recordings.add(RECORDING, columns(10), null)
    const undo = await recordings.remove([id])
    expect((await recordings.list()).items).toEqual([])
    expect(await recordings.get(id)).toBeUndefined()
    await recordings.restore(undo)
    expect((await recordings.get(id))?.columns).toEqual(columns(10))
  })

  test('deleted yesterday is gone for good', async () => {
    const name = freshName()
    let now = new Date('2025-03-01T10:00:00Z')
    const first = await openTestLog({ name, now: () => now })
    const { id } = await first.recordings.add(RECORDING, columns(10), null)
    await first.recordings.remove([id])
    now = new Date('2025-03-02T11:00:00Z')
    await openTestLog({ name, now: () => now })
    const database = await openDB(name)
    for (const store of ['recordings', 'recordingChunks', 'recordingDetails'])
      await expect.poll(() => database.count(store)).toBe(0)
    database.close()
  })

  test('takes words and marks, and refuses what is none', async () => {
    const { recordings } = await openTestLog()
    const { id } = await recordings.add(RECORDING, columns(10), null)
    const changed = await recordings.change(id, { notes: 'In still air.' })
    expect(changed.notes).toBe('In still air.')
    const wrong = recordings.change(id, { notes: 7 as unknown as string })
    expect(await failureOf(wrong)).toMatchObject({ code: 'not a recording' })
    expect(await failureOf(recordings.change('no such', {}))).toMatchObject({ code: 'not found' })
  })

  test('counts as on this device only until a backup holds it', async () => {
    const log = await openTestLog()
    const only = async () => (await log.status()).unsavedElsewhere
    await log.recordings.add(RECORDING, columns(3), null)
    expect(await only()).toBe(1)
    await log.backedUp(await log.markBackup())
    expect(await only()).toBe(0)
    const { id } = await log.recordings.add(RECORDING, columns(3), null)
    expect(await only()).toBe(1)
    await log.recordings.remove([id])
    expect(await only()).toBe(0)
  })

  test('a copy made after a long recording counts from when it was made', async () => {
    let now = new Date('2025-03-01T13:30:00Z')
    const log = await openTestLog({ now: () => now })
    // Three and a half hours from 10:00 UTC on.
    const long = { ...columns(2), ms: Uint32Array.of(0, 3.5 * 3600e3) }
    await log.recordings.add(RECORDING, long, null)
    now = new Date('2025-03-01T13:35:00Z')
    await log.backedUp(await log.markBackup())
    expect((await log.status()).unsavedElsewhere).toBe(0)
  })

  test('made while a backup is written is in none, and reminds after a week', async () => {
    let now = new Date('2025-03-01T12:00:00Z')
    const log = await openTestLog({ now: () => now })
    const mark = await log.markBackup()
    now = new Date('2025-03-01T12:00:10Z')
    await log.recordings.add(RECORDING, columns(3), null)
    now = new Date('2025-03-01T12:00:20Z')
    await log.backedUp(mark)
    expect(await log.status()).toMatchObject({ unsavedElsewhere: 1, remindBackup: false })
    now = new Date('2025-03-08T12:00:21Z')
    expect((await log.status()).remindBackup).toBe(true)
  })

  test('tells listeners that recordings have changed', async () => {
    const log = await openTestLog()
    const heard: string[] = []
    log.subscribe(({ kind }) => heard.push(kind))
    await log.recordings.add(RECORDING, columns(3), null)
    expect(heard).toEqual(['recordings'])
  })
})
