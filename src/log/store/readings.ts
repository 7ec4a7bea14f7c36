/** Adding, opening, editing and recomputing readings. */
import * as v from 'valibot'
import { headOf, issueText, type PictureRow, unpacked } from '../index/rows.ts'
import { isRow, namedReading, namedRows, newestRows } from '../index/rows-reading.ts'
import { summaryOfDamaged } from '../index/summary.ts'
import { LogError } from '../schema/errors.ts'
import { RECORD_LIMITS } from '../schema/file-format.ts'
import { canonicalText, type Json, jsonProblem } from '../schema/json-value.ts'
import { momentOf } from '../schema/moment.ts'
import {
  changes as changesSchema,
  EDITABLE_NAMES,
  firstResult,
  type Reading,
  reading as readingSchema,
} from '../schema/reading-schema.ts'
import type { Changes, Log, NewPicture, NewReading } from '../schema/types.ts'
import { wholeReading } from '../schema/whole-reading.ts'
import { withoutPlaces } from './blob-places.ts'
import { change } from './changing.ts'
import type { Context } from './context.ts'
import { pictureFrom } from './pictures.ts'
import { STATE_KEY, type State } from './state.ts'
import { notFound, slotOfRow, type Writing } from './writing.ts'

type Readings = Pick<
  Log,
  | 'add'
  | 'get'
  | 'heads'
  | 'picture'
  | 'newest'
  | 'count'
  | 'find'
  | 'vocabulary'
  | 'edit'
  | 'recompute'
>

/** Rows read in one go while the screen stays responsive. */
const HEADS_A_SLICE = 100

export function readingStore(context: Context): Readings {
  const { db, index, now, zone, newId } = context

  return {
    async add(draft, picture) {
      const reading = await drafted(draft, picture)
      await change(context, async (writing) => {
        if ((await writing.row(reading.reading.id)) !== undefined) {
          throw new LogError({ code: 'already there', id: reading.reading.id })
        }
        await writing.insert(reading.reading, reading.picture)
        return { ids: [reading.reading.id], value: undefined }
      })
      return reading.reading
    },

    get: (id) => namedReading(db, id, unpacked),

    async heads(ids, { signal, progress } = {}) {
      const heads: Reading[] = []
      for (let from = 0; from < ids.length; from += HEADS_A_SLICE) {
        signal?.throwIfAborted()
        progress?.(from, ids.length)
        for (const found of await namedRows(db, ids.slice(from, from + HEADS_A_SLICE), false)) {
          const stored = isRow(found) ? headOf(found) : undefined
          if (stored?.state === 'sound') heads.push(stored.reading)
        }
      }
      progress?.(ids.length, ids.length)
      return heads
    },

    async picture(id) {
      const row = await db.read(['pictures'], (tx) => tx.objectStore('pictures').get(id))
      return row === undefined ? undefined : new Blob([row.bytes], { type: row.facts.type })
    },

    async newest(count) {
      const rows = await newestRows(db, count)
      return rows.map((found) =>
        isRow(found)
          ? (slotOfRow(found)?.summary ?? summaryOfDamaged(found.id, 0))
          : summaryOfDamaged(found.id, 0),
      )
    },

    async count() {
      const state = await db.read(['state'], (tx) => tx.objectStore('state').get(STATE_KEY))
      return (state as State | undefined)?.listed ?? 0
    },

    find: async (filter) => (await index.load()).find(filter),
    vocabulary: async () => (await index.load()).vocabulary(),

    edit: (id, changes) =>
      change(context, async (writing) => {
        const { row, reading } = await soundRow(writing, id)
        const edited = editedReading(reading, changes, now().toISOString())
        if (edited !== reading) await writing.update(row, edited)
        return { ids: [id], value: edited }
      }),

    recompute: (id, { result, reason, inputs = null, details = null }) =>
      change(context, async (writing) => {
        const { row, reading } = await soundRow(writing, id)
        const recomputed = checked({
          ...reading,
          recomputations: [
            ...reading.recomputations,
            {
              at: now().toISOString(),
              reason,
              result,
              inputs: withoutPlaces(inputs),
              details: withoutPlaces(details),
            },
          ],
        })
        await writing.update(row, recomputed)
        return { ids: [id], value: recomputed }
      }),
  }

  async function drafted(draft: NewReading, picture: NewPicture | undefined) {
    const moment = now()
    const stored = picture && (await pictureFrom(picture))
    // Shape first: the walk for places expects plain data.
    const given = {
      id: newId(),
      savedAt: moment.toISOString(),
      takenAt: momentOf(moment, zone()),
    }
    const whole = checked({ ...wholeReading(draft, given), picture: stored?.facts ?? null })
    const reading: Reading = {
      ...whole,
      inputs: withoutPlaces(whole.inputs),
      details: withoutPlaces(whole.details),
    }
    const row: PictureRow | undefined = stored && {
      id: reading.id,
      facts: stored.facts,
      bytes: stored.bytes.slice(),
    }
    return { reading, picture: row }
  }
}

/** The reading with some values changed and the former ones kept; itself when nothing changes. */
export function editedReading(reading: Reading, changes: Changes, at: string): Reading {
  const parsed = v.safeParse(changesSchema, changes)
  if (!parsed.success) {
    throw new LogError({ code: 'not a reading', where: issueText(parsed.issues) })
  }
  if (parsed.output.result !== undefined && reading.method !== 'by hand') {
    throw new LogError({ code: 'measured, not editable', id: reading.id })
  }
  const before = { ...reading, result: firstResult(reading) }
  const names = ([...EDITABLE_NAMES, 'result'] as const).filter((name) => {
    const to = parsed.output[name]
    return to !== undefined && canonicalText(to as Json) !== canonicalText(before[name] as Json)
  })
  if (names.length === 0) return reading
  const pick = (from: Changes) => Object.fromEntries(names.map((name) => [name, from[name]]))
  return checked({
    ...reading,
    ...pick(parsed.output),
    history: [...reading.history, { at, values: pick(before) }],
  })
}

async function soundRow(writing: Writing, id: string) {
  const row = await writing.wholeRow(id)
  if (row === undefined || row.removedAtMs !== undefined) throw notFound(id)
  const stored = unpacked(row)
  if (stored.state === 'damaged') {
    throw new LogError({ code: 'damaged', id, where: stored.damage.where })
  }
  return { row, reading: stored.reading }
}

function checked(value: unknown): Reading {
  // What is saved must also fit a file, or it could be exported and not imported.
  const problem = jsonProblem(value, RECORD_LIMITS)
  if (problem !== null) throw new LogError({ code: 'not a reading', where: problem })
  const parsed = v.safeParse(readingSchema, value)
  if (!parsed.success) {
    throw new LogError({ code: 'not a reading', where: issueText(parsed.issues) })
  }
  return parsed.output
}
