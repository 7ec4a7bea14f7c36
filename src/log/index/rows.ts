/** How readings, pictures and kit items lie in the database. */
import * as v from 'valibot'
import type { Json } from '../schema/json-value.ts'
import { type KitItem, kitItem } from '../schema/kit-schema.ts'
import { msOf } from '../schema/moment.ts'
import {
  type PictureFacts,
  type Reading,
  readingNumbers,
  reading as readingSchema,
} from '../schema/reading-schema.ts'
import { textCheck } from '../schema/text-check.ts'
import type { Damage, Stored } from '../schema/types.ts'

export interface ReadingRow {
  /** Counts up with every reading that was ever added; its place in the blocks. */
  readonly seq: number
  readonly id: string
  /**
   * The reading without inputs and details, as JSON text: a browser copies a string at memory speed,
   * and JSON.parse builds its sixty fields in half the time that a structured copy takes.
   */
  readonly json: string
  /** Check of {@link json}: what fits it is as it was when it passed the schema on its way in. */
  readonly check: number
  /** Check of the text in the store of inputs, which lists and tables never read; absent without. */
  readonly inputsCheck?: number
  /** An older record that could not be parsed, kept verbatim. */
  readonly former?: unknown
  /** Sorting time; absent while the reading is removed. */
  readonly listedAtMs?: number
  /** When it was removed. */
  readonly removedAtMs?: number
  /** Number of the log's last change of it; absent for what no backup is asked for. */
  readonly change?: number
}

/** With the text of inputs and details that lies beside it; undefined when there is none. */
export interface WholeRow extends ReadingRow {
  readonly inputs?: string | undefined
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

/**
 * A reading in its two parts, each with its check: the reading without inputs and details, and those
 * of it and of its recomputations as one list ('' when there are none).
 */
export function packed(whole: Reading): {
  parts: Pick<ReadingRow, 'json' | 'check' | 'inputsCheck'>
  inputs: string
} {
  const blobs = [
    whole.inputs,
    whole.details,
    ...whole.recomputations.flatMap((r) => [r.inputs, r.details]),
  ]
  const json = JSON.stringify({
    ...whole,
    inputs: null,
    details: null,
    recomputations: whole.recomputations.map((r) => ({ ...r, inputs: null, details: null })),
  })
  const check = textCheck(json)
  if (blobs.every((blob) => blob === null)) return { parts: { json, check }, inputs: '' }
  const inputs = JSON.stringify(blobs)
  return { parts: { json, check, inputsCheck: textCheck(inputs) }, inputs }
}

/** The reading of a row, or what is wrong with it. */
export function unpacked(row: WholeRow): Stored {
  const head = headOf(row)
  if (head.state === 'damaged' || row.inputsCheck === undefined) return head
  if (row.inputs === undefined) return damaged(row, 'inputs: missing')
  const blobs = textCheck(row.inputs) === row.inputsCheck ? parsed(row.inputs) : undefined
  const { recomputations } = head.reading
  if (!Array.isArray(blobs) || blobs.length !== 2 + 2 * recomputations.length) {
    return damaged(row, 'inputs: check sum')
  }
  const values = blobs as Json[]
  const reading: Reading = {
    ...head.reading,
    inputs: values[0]!,
    details: values[1]!,
    recomputations: recomputations.map((r, i) => ({
      ...r,
      inputs: values[2 + 2 * i]!,
      details: values[3 + 2 * i]!,
    })),
  }
  return { state: 'sound', reading }
}

/** The reading of a row without inputs and details. */
export function headOf(row: ReadingRow): Stored {
  const value = parsed(row.json)
  if (typeof row.json === 'string' && textCheck(row.json) === row.check) {
    const reading = value as Reading
    if (reading.id !== row.id) return damaged(row, 'id: not that of its row')
    const numbers = v.safeParse(readingNumbers, reading)
    if (!numbers.success) return damaged(row, issueText(numbers.issues))
    return { state: 'sound', reading }
  }
  // The schema says more of what is wrong than a check sum does.
  const checked = v.safeParse(readingSchema, value)
  return damaged(row, checked.success ? 'check sum' : issueText(checked.issues))
}

/** Value of a JSON text; undefined for anything else. */
function parsed(text: unknown): unknown {
  try {
    return typeof text === 'string' ? JSON.parse(text) : undefined
  } catch {
    return undefined
  }
}

/** When the reading of a row was saved, ms; NaN when it does not say. */
export function savedAtMs(row: ReadingRow): number {
  const reading = parsed(row.json) as { savedAt?: unknown } | null | undefined
  return typeof reading?.savedAt === 'string' ? Date.parse(reading.savedAt) : Number.NaN
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
export const dueForBackup = (of: { simulated: boolean; demo: boolean }) => !of.simulated && !of.demo

function damaged(row: WholeRow, where: string): Stored {
  // Opened as far as it can be, for whoever has to read it.
  const raw = rawText({
    ...row,
    json: parsed(row.json) ?? row.json,
    inputs: parsed(row.inputs) ?? row.inputs,
  })
  return { state: 'damaged', damage: { id: idOfRow(row), where, raw } }
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
