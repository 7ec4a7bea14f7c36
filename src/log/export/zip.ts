import { recordingEntries } from '../recordings/recording-files.ts'
import { recordingsOf } from '../recordings/recordings.ts'
import { LogError } from '../schema/errors.ts'
import { pictureName } from '../schema/file-format.ts'
import type { KitItem } from '../schema/kit-schema.ts'
import type { Reading } from '../schema/reading-schema.ts'
import type { ExportOptions } from '../schema/types.ts'
import type { Context } from '../store/context.ts'
import { withoutMetadata } from '../store/picture-metadata.ts'
import { jsonChunks } from './json.ts'
import { readingsToExport } from './source.ts'
import { ZipWriter } from './zip-writer.ts'

/** Text of one part of the log in the ZIP, roughly: a reader may want to hold one. */
const PART_BYTES = 64_000_000

/** The log with its pictures and maps: log.json (log-2.json ... when it is long), pictures/<id>, maps/<id>. */
export async function* zipChunks(
  context: Context,
  options: ExportOptions,
  kit: readonly KitItem[],
  at: Date,
): AsyncGenerator<Uint8Array> {
  const zip = new ZipWriter(at)
  const withPictures: { id: string; type: string }[] = []
  const withMaps: string[] = []
  let readings = 0
  // Readings are half of the way, pictures the other half.
  const batches = readingsToExport(
    context,
    {
      ...options,
      progress: (done, total) => {
        readings = total
        options.progress?.(done, 2 * total)
      },
    },
    true,
  )
  let more = true
  let bytes = 0

  /** Batches until the part is long enough. */
  async function* part(): AsyncGenerator<readonly Reading[]> {
    bytes = 0
    while (bytes < PART_BYTES) {
      const next = await batches.next()
      if (next.done) {
        more = false
        return
      }
      for (const reading of next.value) {
        const { id, picture } = reading
        if (picture !== null) withPictures.push({ id, type: picture.type })
        if (options.maps?.has(reading)) withMaps.push(id)
      }
      yield next.value
    }
  }
  async function* counted(chunks: AsyncIterable<Uint8Array>): AsyncGenerator<Uint8Array> {
    for await (const chunk of chunks) {
      bytes += chunk.length
      yield chunk
    }
  }

  for (let number = 1; more; number++) {
    const name = number === 1 ? 'log.json' : `log-${number}.json`
    const json = jsonChunks(part(), number === 1 ? kit : [], at.toISOString())
    yield* zip.deflated(name, counted(json))
  }
  for (const [i, { id, type }] of withPictures.entries()) {
    options.signal?.throwIfAborted()
    const picture = await pictureBytes(context, id)
    if (picture !== undefined) yield* zip.stored(pictureName(id, type), picture)
    options.progress?.(readings * (1 + (i + 1) / withPictures.length), 2 * readings)
  }
  yield* mapsToExport(context, zip, withMaps, options)
  // With the whole log only: a choice of readings is of readings.
  if (options.ids === undefined) yield* recordingsToExport(context, zip, options)
  yield* zip.end()
}

/** The maps of readings, one reading in memory at a time. */
async function* mapsToExport(
  context: Context,
  zip: ZipWriter,
  ids: readonly string[],
  { maps, signal }: ExportOptions,
): AsyncGenerator<Uint8Array> {
  if (!maps) return
  for (const id of ids) {
    for await (const batch of readingsToExport(
      context,
      { ids: [id], ...(signal && { signal }) },
      true,
    ))
      for (const reading of batch)
        for (const { name, bytes } of await maps.of(reading))
          yield* zip.deflated(`maps/${name}`, one(bytes))
  }
}

async function* one(bytes: Uint8Array): AsyncGenerator<Uint8Array> {
  yield bytes
}

/** Recordings of the log; a damaged one is told and left out. */
async function* recordingsToExport(
  context: Context,
  zip: ZipWriter,
  { signal, onDamage }: ExportOptions,
): AsyncGenerator<Uint8Array> {
  const recordings = recordingsOf(context)
  const { items, damaged } = await recordings.list()
  for (const damage of damaged) onDamage?.(damage)
  for (const { id } of items) {
    signal?.throwIfAborted()
    try {
      const stored = await recordings.get(id)
      if (stored) yield* recordingEntries(zip, stored)
    } catch (error) {
      if (!(error instanceof LogError)) throw error
      onDamage?.({ id, where: String(error), raw: '' })
    }
  }
}

async function pictureBytes({ db }: Context, id: string): Promise<Uint8Array | undefined> {
  // A picture that the browser has lost does not cost the others.
  const row = await db
    .read(['pictures'], (tx) => tx.objectStore('pictures').get(id))
    .catch(() => undefined)
  // Stripped when it was saved; once more, because leaving the device is what counts.
  return row && withoutMetadata(row.bytes, row.facts.type)
}
