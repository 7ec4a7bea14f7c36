/** Records of a file, checked one by one. */
import * as v from 'valibot'
import { issueText } from '../index/rows.ts'
import { kitItemFromVersion1, readingFromVersion1 } from '../migrations/records.ts'
import { FILE_LIMITS, FILE_SCHEMA, FILE_VERSION } from '../schema/file-format.ts'
import { jsonProblem } from '../schema/json-value.ts'
import { type KitItem, kitItem } from '../schema/kit-schema.ts'
import { type Reading, reading } from '../schema/reading-schema.ts'
import { jsonMembers, type Member } from './json-members.ts'
import { RefusedFile, tooLarge, wrongContent } from './refused.ts'

export type ImportedRecord =
  | { readonly kind: 'reading'; readonly reading: Reading }
  | { readonly kind: 'kit'; readonly item: KitItem }

/** The records of one JSON text. Schema and version are known at its end at the latest. */
export async function* recordsOf(chunks: AsyncIterable<string>): AsyncGenerator<ImportedRecord> {
  let schema: unknown
  let version: unknown
  const counts = { readings: 0, kit: 0 }
  for await (const member of jsonMembers(chunks, ['readings', 'kit'], FILE_LIMITS)) {
    if (member.name === 'schema') {
      schema = member.value
      if (schema !== FILE_SCHEMA) throw new RefusedFile({ code: 'not ours' })
    } else if (member.name === 'version') {
      version = member.value
      checkVersion(version)
    } else if (member.index !== null) {
      const list = member.name as 'readings' | 'kit'
      if (++counts[list] > FILE_LIMITS[list]) throw tooLarge(list)
      yield recordOf(member)
    }
  }
  if (schema === undefined || version === undefined) throw new RefusedFile({ code: 'not ours' })
}

function checkVersion(version: unknown): void {
  if (typeof version !== 'number' || !Number.isInteger(version) || version < 1) {
    throw new RefusedFile({ code: 'not ours' })
  }
  if (version > FILE_VERSION) throw new RefusedFile({ code: 'newer version', version })
}

function recordOf({ name, index, value }: Member): ImportedRecord {
  const place = `${name}[${index}]`
  const problem = jsonProblem(value, {
    depth: FILE_LIMITS.depth,
    characters: FILE_LIMITS.recordCharacters,
  })
  if (problem === 'too deep' || problem === 'too large') throw tooLarge(place)
  if (problem !== null) throw wrongContent(`${place}: ${problem}`)
  // Records of version 1 do not name their version.
  const former = typeof value === 'object' && value !== null && !('version' in value)
  if (name === 'kit') {
    const item = former ? kitItemFromVersion1(value) : undefined
    if (item !== undefined) return { kind: 'kit', item }
    const parsed = v.safeParse(kitItem, value)
    if (!parsed.success) throw wrongContent(`${place}.${issueText(parsed.issues)}`)
    return { kind: 'kit', item: parsed.output }
  }
  const upgraded = former ? readingFromVersion1(value, null) : undefined
  if (upgraded !== undefined) return { kind: 'reading', reading: upgraded }
  const parsed = v.safeParse(reading, value)
  if (!parsed.success) throw wrongContent(`${place}.${issueText(parsed.issues)}`)
  return { kind: 'reading', reading: parsed.output }
}

/** Text of UTF-8 bytes; anything else is no text of ours. */
export async function* textOf(chunks: AsyncIterable<Uint8Array>): AsyncGenerator<string> {
  const decoder = new TextDecoder('utf-8', { fatal: true })
  const decoded = (chunk?: Uint8Array) => {
    try {
      return chunk === undefined ? decoder.decode() : decoder.decode(chunk, { stream: true })
    } catch (error) {
      throw new RefusedFile({ code: 'broken', where: 'no UTF-8' }, { cause: error })
    }
  }
  for await (const chunk of chunks) yield decoded(chunk)
  yield decoded()
}
