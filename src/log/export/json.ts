import { FILE_SCHEMA, FILE_VERSION } from '../schema/file-format.ts'
import type { KitItem } from '../schema/kit-schema.ts'
import type { Reading } from '../schema/reading-schema.ts'

/** The head of every file of the log, before its lists. */
export function jsonHead(exportedAt: string): string {
  const head = JSON.stringify({ schema: FILE_SCHEMA, version: FILE_VERSION, exportedAt })
  return `${head.slice(0, -1)},\n"readings":[`
}

/** One JSON object; a record a line, so that other tools can follow what changed. */
export async function* jsonChunks(
  batches: AsyncIterable<readonly Reading[]>,
  kit: readonly KitItem[],
  exportedAt: string,
): AsyncGenerator<Uint8Array> {
  const encoder = new TextEncoder()
  yield encoder.encode(jsonHead(exportedAt))
  let first = true
  for await (const readings of batches) {
    if (readings.length === 0) continue
    const text = readings.map((reading) => JSON.stringify(reading)).join(',\n')
    yield encoder.encode(`${first ? '\n' : ',\n'}${text}`)
    first = false
  }
  yield encoder.encode(jsonTail(kit))
}

export function jsonTail(kit: readonly KitItem[]): string {
  const items = kit.map((item) => `\n${JSON.stringify(item)}`).join(',')
  return `\n],\n"kit":[${items}\n]}\n`
}
