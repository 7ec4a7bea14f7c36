import { strFromU8, strToU8, unzipSync, type Zippable, zipSync } from 'fflate'
import { afterEach, describe, expect, test } from 'vitest'
import {
  addRecordings,
  recordingsInZip,
  recordingsZip,
} from '../../../src/log/recordings/recording-files.ts'
import type { StoredRecording } from '../../../src/log/recordings/types.ts'
import { tamper } from '../fixture-database.ts'
import { refusal } from '../importing.ts'
import { bytesOf, closeTestLogs, freshName, openTestLog } from '../opening.ts'
import { course, RECORDING } from './made-recordings.ts'

afterEach(closeTestLogs)

async function made(...objects: string[]): Promise<StoredRecording[]> {
  const { recordings } = await openTestLog()
  const all: StoredRecording[] = []
  for (const object of objects) {
    const { id } = await recordings.add({ ...RECORDING, object }, course([1200, 1190]), { object })
    all.push((await recordings.get(id))!)
  }
  return all
}

const zipped = async (all: readonly StoredRecording[]) =>
  bytesOf(recordingsZip(all, new Date('2025-03-01T10:00:00Z')))

/** The same files under other names, or with other content. */
async function changed(
  bytes: Uint8Array,
  change: (name: string, content: Uint8Array) => Zippable,
): Promise<Blob> {
  const files = Object.entries(unzipSync(bytes)).map(([name, content]) => change(name, content))
  return new Blob([zipSync(Object.assign({}, ...files)).slice()])
}

async function all(file: Blob, signal?: AbortSignal): Promise<StoredRecording[]> {
  const found: StoredRecording[] = []
  for await (const one of recordingsInZip(file, signal)) found.push(one)
  return found
}

describe('recordings in a file of their own', () => {
  test('are two entries each, whose metadata name the table beside them', async () => {
    const two = await made('bar', 'rod')
    const files = unzipSync(await zipped(two))
    const names = two.flatMap(({ head: { id } }) => [
      `recordings/${id}.csv`,
      `recordings/${id}.csv-metadata.json`,
    ])
    expect(Object.keys(files)).toEqual(names)
    const { url } = JSON.parse(strFromU8(files[names[1]!]!)) as { url: string }
    // Model for Tabular Data (W3C, 17 December 2015), 5.3: beside the table, "-metadata.json" behind its name.
    expect(`recordings/${url}`).toBe(names[0])
    expect(await all(new Blob([await zipped(two)]))).toEqual(two)
  })

  test('come back from a folder within, as packing programs make one; other files are left alone', async () => {
    const two = await made('bar', 'rod')
    const file = await changed(await zipped(two), (name, content) => ({
      [`my log/${name}`]: content,
      [`my log/deeper/${name}`]: content,
      [`${name}.txt`]: content,
      'about.txt': strToU8('mine'),
    }))
    expect(await all(file)).toEqual(two)
  })

  test('are refused where one is there twice, has another id, or lacks its metadata', async () => {
    const [one] = await made('bar')
    const { id } = one!.head
    const bytes = await zipped([one!])
    const wrong = (where: string) => ({ code: 'wrong content', where })
    const twice = await changed(bytes, (name, content) => ({
      [name]: content,
      [`again/${name}`]: content,
    }))
    expect(await refusal(all(twice))).toEqual(wrong(`again/recordings/${id}.csv: twice`))
    const otherId = id.replace(/^./, (c) => (c === '0' ? '1' : '0'))
    const renamed = await changed(bytes, (name, content) => ({
      [name.replace(id, otherId)]: content,
    }))
    expect(await refusal(all(renamed))).toEqual(wrong(`recordings/${otherId}.csv: another id`))
    const bare = await changed(
      bytes,
      (name, content): Zippable => (name.endsWith('.csv') ? { [name]: content } : {}),
    )
    expect(await refusal(all(bare))).toEqual(wrong(`recordings/${id}.csv: no metadata beside it`))
  })

  test('are read no further once it is stopped', async () => {
    const file = new Blob([await zipped(await made('bar', 'rod'))])
    const stop = new AbortController()
    const read: string[] = []
    const reading = (async () => {
      for await (const { head } of recordingsInZip(file, stop.signal)) {
        read.push(head.object)
        stop.abort(new Error('no more'))
      }
    })()
    await expect(reading).rejects.toThrow('no more')
    expect(read).toEqual(['bar'])
  })
})

describe('recordings of a file that come into the log', () => {
  test('are added where they are not here, and left as they are where they are', async () => {
    const [one, two] = await made('bar', 'rod')
    const name = freshName()
    const { recordings } = await openTestLog({ name })
    async function* both() {
      yield* [one!, two!]
    }
    await recordings.put({ ...one!.head, notes: 'mine' }, one!.columns, one!.details)
    expect(await addRecordings(recordings, both())).toEqual({ added: 1, kept: 1 })
    expect(await recordings.get(one!.head.id)).toMatchObject({ head: { notes: 'mine' } })
    expect(await recordings.get(two!.head.id)).toEqual(two)
    // One that is here damaged is here: its readings may yet be rescued.
    await tamper(name, 'recordingChunks', (store) => store.delete([one!.head.id, 0]))
    await tamper(name, 'recordings', (store) => {
      store.put({ id: two!.head.id, json: '{}', check: 1 })
    })
    expect(await addRecordings(recordings, both())).toEqual({ added: 0, kept: 2 })
  })
})
