/** What a file holds, in the order in which it is read. */
import { FILE_LIMITS, LOG_PART, PICTURE_ENTRY } from '../schema/file-format.ts'
import type { Work } from '../schema/types.ts'
import { PICTURE_BYTES_MOST } from '../store/pictures.ts'
import { type ImportedRecord, recordsOf, textOf } from './records.ts'
import { RefusedFile, wrongContent } from './refused.ts'
import { entryChunks, type ZipEntry, zipDirectory } from './zip-reader.ts'

export type ImportedContent =
  | ImportedRecord
  | { readonly kind: 'picture'; readonly id: string; readonly bytes: Uint8Array }

const CHUNK = 1 << 18

/** Records and pictures of a JSON or a ZIP file, readings before their pictures. */
export async function* contentOf(
  file: Blob,
  { signal, progress }: Work,
): AsyncGenerator<ImportedContent> {
  let done = 0
  /** Chunks counted, with a look at the signal between. */
  async function* watched(
    chunks: AsyncIterable<Uint8Array>,
    total: number,
  ): AsyncGenerator<Uint8Array> {
    for await (const chunk of chunks) {
      signal?.throwIfAborted()
      yield chunk
      done += chunk.length
      progress?.(Math.min(done, total), total)
    }
  }

  if (!(await beginsAsZip(file))) {
    yield* recordsOf(textOf(watched(fileChunks(file), file.size)))
    return
  }
  const { parts, pictures } = entriesOf(await zipDirectory(file))
  const total = [...parts, ...pictures.values()].reduce((sum, entry) => sum + entry.size, 0)
  for (const part of parts) {
    yield* recordsOf(textOf(watched(entryChunks(file, part, FILE_LIMITS.zipPartBytes), total)))
  }
  for (const [id, entry] of pictures) {
    const bytes = new Uint8Array(entry.size)
    let at = 0
    for await (const chunk of watched(entryChunks(file, entry, PICTURE_BYTES_MOST), total)) {
      bytes.set(chunk, at)
      at += chunk.length
    }
    yield { kind: 'picture', id, bytes }
  }
}

/** Parts of the log and pictures by id; anything else in the archive is left alone. */
function entriesOf(entries: readonly ZipEntry[]): {
  parts: ZipEntry[]
  pictures: Map<string, ZipEntry>
} {
  const parts = entries.filter((entry) => LOG_PART.test(entry.name))
  if (parts.length === 0) throw new RefusedFile({ code: 'not ours' })
  if (new Set(parts.map((part) => part.name)).size < parts.length)
    throw wrongContent('a part twice')
  const pictures = new Map<string, ZipEntry>()
  for (const entry of entries) {
    const id = PICTURE_ENTRY.exec(entry.name)?.[1]
    if (id === undefined) continue
    if (pictures.has(id)) throw wrongContent(`${entry.name}: twice`)
    pictures.set(id, entry)
  }
  return { parts, pictures }
}

export async function beginsAsZip(file: Blob): Promise<boolean> {
  const start = new Uint8Array(await file.slice(0, 4).arrayBuffer())
  return start[0] === 0x50 && start[1] === 0x4b
}

async function* fileChunks(file: Blob): AsyncGenerator<Uint8Array> {
  for (let from = 0; from < file.size; from += CHUNK) {
    yield new Uint8Array(await file.slice(from, from + CHUNK).arrayBuffer())
  }
}
