/** Recordings in a ZIP: two entries each, the table and its metadata. */

import { ZipWriter } from '../export/zip-writer.ts'
import { textOf } from '../import/records.ts'
import { wrongContent } from '../import/refused.ts'
import { entryChunks, type ZipEntry, zipDirectory } from '../import/zip-reader.ts'
import { recordingCsv, recordingFromFiles, recordingMetadata } from './recording-csv.ts'
import type { Recordings, StoredRecording } from './types.ts'

const ENTRY =
  /^(?:[^/]+\/)?recordings\/([0-9a-f]{8}(?:-[0-9a-f]{4}){3}-[0-9a-f]{12})\.csv(-metadata\.json)?$/
/** Bytes of one entry: 80,000 readings of some 70 characters, or as long a text of details. */
const ENTRY_BYTES_MOST = 16_000_000
const RECORDINGS_MOST = 20_000

async function* one(text: string): AsyncGenerator<Uint8Array> {
  yield new TextEncoder().encode(text)
}

/** The two entries of a recording. */
export async function* recordingEntries(
  zip: ZipWriter,
  stored: StoredRecording,
): AsyncGenerator<Uint8Array> {
  const name = `${stored.head.id}.csv`
  yield* zip.deflated(`recordings/${name}`, one(recordingCsv(stored)))
  const metadata = JSON.stringify(recordingMetadata(stored, name), null, 1)
  yield* zip.deflated(`recordings/${name}-metadata.json`, one(metadata))
}

/** One or several recordings as a file of their own. */
export async function* recordingsZip(
  stored: readonly StoredRecording[],
  at: Date,
): AsyncGenerator<Uint8Array> {
  const zip = new ZipWriter(at)
  for (const recording of stored) yield* recordingEntries(zip, recording)
  yield* zip.end()
}

/** The recordings of a ZIP, one after the other, each checked. @throws RefusedFile */
export async function* recordingsInZip(
  file: Blob,
  signal?: AbortSignal,
): AsyncGenerator<StoredRecording> {
  const tables = new Map<string, ZipEntry>()
  const metadata = new Map<string, ZipEntry>()
  for (const entry of await zipDirectory(file)) {
    const [, id, meta] = ENTRY.exec(entry.name) ?? []
    if (id === undefined) continue
    const into = meta === undefined ? tables : metadata
    if (into.has(id)) throw wrongContent(`${entry.name}: twice`)
    into.set(id, entry)
  }
  if (tables.size > RECORDINGS_MOST) throw wrongContent(`${tables.size} recordings`)
  const read = async (entry: ZipEntry) => {
    let text = ''
    for await (const part of textOf(entryChunks(file, entry, ENTRY_BYTES_MOST))) text += part
    return text
  }
  for (const [id, table] of tables) {
    signal?.throwIfAborted()
    const about = metadata.get(id)
    if (about === undefined) throw wrongContent(`${table.name}: no metadata beside it`)
    const stored = recordingFromFiles(await read(table), await read(about))
    if (stored.head.id !== id) throw wrongContent(`${table.name}: another id`)
    yield stored
  }
}

/** Puts those that are not here yet into the log. */
export async function addRecordings(
  recordings: Recordings,
  found: AsyncIterable<StoredRecording>,
): Promise<{ readonly added: number; readonly kept: number }> {
  let [added, kept] = [0, 0]
  for await (const { head, columns, details } of found) {
    if ((await recordings.get(head.id).catch(() => null)) !== undefined) {
      kept++
      continue
    }
    await recordings.put(head, columns, details)
    added++
  }
  return { added, kept }
}
