/** How readings, pictures and kit items lie in the database. */
import * as v from 'valibot'
import type { Json } from './json-value.ts'
import { type KitItem, kitItem } from './kit-schema.ts'
import { msOf } from './moment.ts'
import { type PictureFacts, type Reading, reading } from './reading-schema.ts'
import type { Damage, Stored } from './types.ts'

export interface ReadingRow {
  /** Counts up with every reading that was ever added; its place in the blocks. */
  readonly seq: number
  readonly id: string
  /** The reading without inputs and details. */
  readonly reading: unknown
  /**
   * Inputs and details of the reading and of its recomputations, one JSON text: lists and exports
   * then copy a string that they need not look into.
   */
  readonly blobs: string
  /** Sorting time; absent while the reading is removed. */
  readonly listedAtMs?: number
  /** When it was removed. */
  readonly removedAtMs?: number
  /** Number of the log's last change of it; absent for what no backup is asked for. */
  readonly change?: number
}

export interface PictureRow {
  readonly id: string
  readonly facts: PictureFacts
  /** Bytes, not a Blob: they lie in the same row, and are there or not there together. */
  readonly bytes: Uint8Array<ArrayBuffer>
}

export interface KitRow {
  readonly id: string
  readonly item: unknown
  readonly removedAtMs?: number
  readonly change?: number
}

/** Splits a reading into the row's two parts. */
export function packed(whole: Reading): Pick<ReadingRow, 'reading' | 'blobs'> {
  const blobs = [
    whole.inputs,
    whole.details,
    ...whole.recomputations.flatMap((r) => [r.inputs, r.details]),
  ]
  return {
    reading: {
      ...whole,
      inputs: null,
      details: null,
      recomputations: whole.recomputations.map((r) => ({ ...r, inputs: null, details: null })),
    },
    blobs: blobs.every((blob) => blob === null) ? '' : JSON.stringify(blobs),
  }
}

/** The reading of a row, or what is wrong with it. */
export function unpacked(row: ReadingRow): Stored {
  const head = headOf(row)
  if (head.state === 'damaged' || row.blobs === '') return head
  let blobs: unknown
  try {
    blobs = JSON.parse(row.blobs)
  } catch {
    return damaged(row, 'inputs: no JSON')
  }
  const recomputations = head.reading.recomputations
  if (!Array.isArray(blobs) || blobs.length !== 2 + 2 * recomputations.length) {
    return damaged(row, 'inputs: not as many as results')
  }
  const texts = blobs as Json[]
  const whole = {
    ...head.reading,
    inputs: texts[0],
    details: texts[1],
    recomputations: recomputations.map((r, i) => ({
      ...r,
      inputs: texts[2 + 2 * i],
      details: texts[3 + 2 * i],
    })),
  }
  const checked = v.safeParse(reading, whole)
  return checked.success
    ? { state: 'sound', reading: checked.output }
    : damaged(row, issueText(checked.issues))
}

/** The reading of a row without inputs and details. */
export function headOf(row: ReadingRow): Stored {
  const checked = v.safeParse(reading, row.reading)
  if (!checked.success) return damaged(row, issueText(checked.issues))
  if (checked.output.id !== row.id) return damaged(row, 'id: not that of its row')
  if (typeof row.blobs !== 'string') return damaged(row, 'inputs: missing')
  return { state: 'sound', reading: checked.output }
}

export function kitItemOf(row: KitRow): KitItem | Damage {
  const checked = v.safeParse(kitItem, row.item)
  if (!checked.success) {
    return { id: row.id, where: issueText(checked.issues), raw: rawText(row.item) }
  }
  return checked.output
}

/** Rows without a usable id are called by their number. */
export const idOfRow = (row: ReadingRow): string =>
  typeof row.id === 'string' && row.id !== '' ? row.id : `row ${row.seq}`

export function sortingTime(of: Reading): number {
  return msOf(of.takenAt)
}

/** Measured work that a backup should hold. */
export const worthBackup = (of: { simulated: boolean; demo: boolean }) => !of.simulated && !of.demo

export function damaged(row: ReadingRow, where: string): Stored {
  return { state: 'damaged', damage: { id: idOfRow(row), where, raw: rawText(row) } }
}

export function issueText(issues: readonly v.BaseIssue<unknown>[]): string {
  const first = issues[0]
  if (first === undefined) return ''
  const path = v.getDotPath(first)
  return path === null ? first.message : `${path}: ${first.message}`
}

/** Anything as JSON text; what JSON cannot say is named. */
export function rawText(value: unknown): string {
  try {
    return JSON.stringify(
      value,
      (_name, inner: unknown) => {
        if (typeof inner === 'bigint') return `${inner}n`
        if (typeof inner === 'number' && !Number.isFinite(inner)) return String(inner)
        if (inner instanceof ArrayBuffer) return `${inner.byteLength} bytes`
        return inner
      },
      2,
    )
  } catch (error) {
    return JSON.stringify({ unreadable: String(error) })
  }
}
