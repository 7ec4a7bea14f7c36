import { strFromU8, unzipSync } from 'fflate'
import { afterEach, describe, expect, test, vi } from 'vitest'
import type { Log } from '../../../src/log/schema/types.ts'
import { tamper } from '../fixture-database.ts'
import { bytesOf, closeTestLogs, draft, freshName, jpegBlob, openTestLog } from '../opening.ts'
import { course, RECORDING } from '../recordings/made-recordings.ts'

afterEach(() => {
  closeTestLogs()
  vi.restoreAllMocks()
})

const picture = () => ({ blob: jpegBlob(), width: 3, height: 2 })
const zipped = async (log: Log, options?: Parameters<Log['export']>[1]) =>
  unzipSync(await bytesOf(log.export('zip', options)))
const logOf = (files: Record<string, Uint8Array>) =>
  JSON.parse(strFromU8(files['log.json']!)) as { readings: { id: string }[]; kit: unknown[] }

describe('the log as a ZIP', () => {
  test('tells its way: half for the readings, half for their pictures', async () => {
    const log = await openTestLog()
    await log.add(draft(), picture())
    await log.add(draft(), picture())
    await log.add(draft())
    const seen: [number, number][] = []
    await zipped(log, { progress: (done, total) => seen.push([done, total]) })
    expect(seen).toEqual([
      [0, 6],
      [3, 6],
      [4.5, 6],
      [6, 6],
    ])
  })

  test('of some readings holds these alone: no kit, no recording, no other picture', async () => {
    const log = await openTestLog()
    const [one, other] = [await log.add(draft(), picture()), await log.add(draft(), picture())]
    await log.kit.add({ kind: 'lamp', name: 'Lamp', data: null })
    const recording = await log.recordings.add(RECORDING, course([1200]), null)
    const some = await zipped(log, { ids: [one!.id] })
    expect(Object.keys(some)).toEqual(['log.json', `pictures/${one!.id}.jpg`])
    expect(logOf(some)).toMatchObject({ readings: [{ id: one!.id }], kit: [] })
    const all = await zipped(log)
    expect(Object.keys(all)).toEqual([
      'log.json',
      `pictures/${one!.id}.jpg`,
      `pictures/${other!.id}.jpg`,
      `recordings/${recording.id}.csv`,
      `recordings/${recording.id}.csv-metadata.json`,
    ])
    expect(logOf(all).kit).toHaveLength(1)
  })

  test('is made without what is lost or damaged, which is told', async () => {
    const name = freshName()
    const log = await openTestLog({ name })
    const [lost, kept] = [await log.add(draft(), picture()), await log.add(draft(), picture())]
    const [torn, headless] = [
      await log.recordings.add(RECORDING, course([1200]), null),
      await log.recordings.add(RECORDING, course([1210]), null),
    ]
    const lamp = await log.kit.add({ kind: 'lamp', name: 'Lamp', data: null })
    await tamper(name, 'pictures', (store) => store.delete(lost!.id))
    await tamper(name, 'kit', (store) => store.put({ id: lamp.id, item: 7 }))
    await tamper(name, 'recordings', (store) => {
      store.put({ id: headless!.id, json: '{', check: 1 })
    })
    await tamper(name, 'recordingChunks', (store) => {
      store.put({ id: torn!.id, number: 0, bytes: new Uint8Array(8), crc32: 1 })
    })
    const told: string[] = []
    const files = await zipped(log, { onDamage: ({ id }) => told.push(id) })
    expect(told).toEqual([lamp.id, headless!.id, torn!.id])
    expect(Object.keys(files)).toEqual(['log.json', `pictures/${kept!.id}.jpg`])
    expect(logOf(files)).toMatchObject({ kit: [] })
    expect(logOf(files).readings).toHaveLength(2)
  })

  test('can be stopped while pictures go into it', async () => {
    const log = await openTestLog()
    await log.add(draft(), picture())
    const stop = new AbortController()
    const stopped = (at: number) =>
      zipped(log, {
        signal: stop.signal,
        progress: (done) => done === at && stop.abort(new Error('enough')),
      })
    await expect(stopped(1)).rejects.toThrow('enough')
  })

  test('has the maps of those readings that have one, and of these alone', async () => {
    const log = await openTestLog()
    const [one, other] = [await log.add(draft({ object: 'map' })), await log.add(draft())]
    const maps = {
      has: ({ object }: { object: string }) => object === 'map',
      of: async ({ id }: { id: string }) => [
        { name: `${id}.tif`, bytes: Uint8Array.of(1, 2) },
        { name: `${id}.png`, bytes: Uint8Array.of(3) },
      ],
    }
    const files = await zipped(log, { maps })
    expect(Object.keys(files)).toEqual(['log.json', `maps/${one!.id}.tif`, `maps/${one!.id}.png`])
    expect([...files[`maps/${one!.id}.tif`]!]).toEqual([1, 2])
    expect(Object.keys(await zipped(log, { maps, ids: [other!.id] }))).toEqual(['log.json'])
  })
})

test('a table tells its way through all readings, or through those that are named', async () => {
  const log = await openTestLog()
  const ids: string[] = []
  for (let i = 0; i < 3; i++) ids.push((await log.add(draft())).id)
  const way = async (named?: readonly string[]) => {
    const seen: [number, number][] = []
    const progress = (done: number, total: number) => void seen.push([done, total])
    await bytesOf(log.export('csv', { progress, ...(named && { ids: named }) }))
    return seen
  }
  expect(await way()).toEqual([
    [0, 3],
    [3, 3],
  ])
  expect(await way(ids.slice(1))).toEqual([
    [0, 2],
    [2, 2],
  ])
})
