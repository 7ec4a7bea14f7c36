/** How recordings lie in the database, and the checks on the way in and out. */
import * as v from 'valibot'
import { crc32 } from '../crc32.ts'
import { issueText } from '../index/rows.ts'
import { LogError } from '../schema/errors.ts'
import { type Json, jsonProblem } from '../schema/json-value.ts'
import { textCheck } from '../schema/text-check.ts'
import { bytesOfColumns, type RecordingColumns } from './columns.ts'
import { type RecordingHead, recordingHead } from './recording-schema.ts'

/** How a recording lies in the database: its head, and beside it its chunks and details. */
export interface RecordingRow {
  readonly id: string
  readonly json: string
  /** Check of {@link json}. */
  readonly check: number
  /** Being written: it stands in no list until it has ended. */
  readonly running?: true
  readonly removedAtMs?: number
}

/** Readings of some seconds while it runs; a recording that has ended is one chunk. */
export interface ChunkRow {
  readonly id: string
  readonly number: number
  readonly bytes: Uint8Array<ArrayBuffer>
  readonly crc32: number
}

/** What the figures rest on, as JSON text. */
export interface DetailsRow {
  readonly id: string
  readonly json: string
  readonly check: number
}

export const RECORDING_STORES = ['recordings', 'recordingChunks', 'recordingDetails'] as const
/** Number of a chunk: above any that is written. */
const CHUNKS_END = Number.MAX_SAFE_INTEGER
export const chunksOf = (id: string) => IDBKeyRange.bound([id, 0], [id, CHUNKS_END])

export function recordingRow(head: RecordingHead): RecordingRow {
  const json = JSON.stringify(head)
  return { id: head.id, json, check: textCheck(json) }
}

/** @throws LogError 'damaged' */
export function recordingHeadOf({ id, json, check }: RecordingRow): RecordingHead {
  if (textCheck(json) !== check) throw new LogError({ code: 'damaged', id, where: 'check sum' })
  // What fits its check passed the schema on its way in.
  return JSON.parse(json) as RecordingHead
}

export function checkedHead(value: unknown): RecordingHead {
  const parsed = v.safeParse(recordingHead, value)
  if (!parsed.success) {
    throw new LogError({ code: 'not a recording', where: issueText(parsed.issues) })
  }
  return parsed.output
}

export function chunkRow(id: string, number: number, columns: RecordingColumns): ChunkRow {
  const bytes = bytesOfColumns(columns)
  return { id, number, bytes, crc32: crc32(bytes) }
}

export function detailsRow(id: string, details: Json): DetailsRow {
  const problem = jsonProblem(details)
  if (problem !== null)
    throw new LogError({ code: 'not a recording', where: `details: ${problem}` })
  const json = JSON.stringify(details)
  return { id, json, check: textCheck(json) }
}
