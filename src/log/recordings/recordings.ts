import * as v from 'valibot'
import { crc32 } from '../crc32.ts'
import { issueText } from '../index/rows.ts'
import { LogError } from '../schema/errors.ts'
import type { Json } from '../schema/json-value.ts'
import { msOf } from '../schema/moment.ts'
import { textCheck } from '../schema/text-check.ts'
import type { Damage } from '../schema/types.ts'
import type { Context } from '../store/context.ts'
import { columnsOfBytes, factsOfColumns, joinedColumns, type RecordingColumns } from './columns.ts'
import {
  checkedHead,
  chunkRow,
  chunksOf,
  detailsRow,
  RECORDING_STORES,
  type RecordingRow,
  recordingHeadOf,
  recordingRow,
} from './recording-rows.ts'
import { RECORDING_VERSION, type RecordingHead, recordingChanges } from './recording-schema.ts'
import { holdRunning, runningElsewhere } from './running-lock.ts'
import type { NewRecording, RecordingList, Recordings, RecordingWriter } from './types.ts'

export function recordingsOf(context: Context): Recordings {
  const { db, announcer, now, newId } = context
  const told = () => announcer.announce({ kind: 'recordings' })

  const headFrom = (id: string, draft: NewRecording): RecordingHead =>
    checkedHead({
      version: RECORDING_VERSION,
      id,
      savedAt: now().toISOString(),
      object: '',
      material: '',
      notes: '',
      cover: '',
      marks: [],
      ended: 'cut off',
      ...factsOfColumns(joinedColumns([])),
      ...draft,
    })

  const columnsFrom = async (id: string): Promise<RecordingColumns> => {
    const rows = await db.read(['recordingChunks'], (tx) =>
      tx.objectStore('recordingChunks').getAll(chunksOf(id)),
    )
    return joinedColumns(
      rows.map((row) => {
        const columns = crc32(row.bytes) === row.crc32 ? columnsOfBytes(row.bytes) : undefined
        if (!columns) {
          throw new LogError({ code: 'damaged', id, where: `readings, part ${row.number + 1}` })
        }
        return columns
      }),
    )
  }

  /** Many small chunks become one, and the head says what is in it; in one transaction. */
  const settle = async (
    id: string,
    ended: RecordingHead['ended'],
    amend = (columns: RecordingColumns) => columns,
  ): Promise<RecordingHead> => {
    const columns = amend(await columnsFrom(id))
    const head = await db.write(['recordings', 'recordingChunks'], async (tx) => {
      const row = await tx.objectStore('recordings').get(id)
      if (row === undefined) throw new LogError({ code: 'not found', id })
      const next = checkedHead({ ...recordingHeadOf(row), ...factsOfColumns(columns), ended })
      await tx.objectStore('recordings').put(recordingRow(next))
      await tx.objectStore('recordingChunks').delete(chunksOf(id))
      await tx.objectStore('recordingChunks').put(chunkRow(id, 0, columns))
      return next
    })
    told()
    return head
  }

  /** What a closed or killed browser left running. Nothing is lost but the last moments. */
  const settleLeftovers = async (rows: readonly RecordingRow[]): Promise<void> => {
    const elsewhere = await runningElsewhere()
    for (const { id } of rows) if (!elsewhere.has(id)) await settle(id, 'cut off').catch(() => {})
  }

  const update = async (id: string, change: (head: RecordingHead) => unknown) => {
    const head = await db.write(['recordings'], async (tx) => {
      const row = await tx.objectStore('recordings').get(id)
      if (row === undefined || row.removedAtMs !== undefined) {
        throw new LogError({ code: 'not found', id })
      }
      const next = checkedHead(change(recordingHeadOf(row)))
      await tx.objectStore('recordings').put({ ...row, ...recordingRow(next) })
      return next
    })
    told()
    return head
  }

  const putWhole = async (head: RecordingHead, columns: RecordingColumns, details: Json) => {
    const { id } = head
    const kept = detailsRow(id, details)
    await db.write(RECORDING_STORES, async (tx) => {
      await tx.objectStore('recordings').put(recordingRow(head))
      await tx.objectStore('recordingChunks').delete(chunksOf(id))
      await tx.objectStore('recordingChunks').put(chunkRow(id, 0, columns))
      await tx.objectStore('recordingDetails').put(kept)
    })
    told()
  }

  return {
    async begin(draft) {
      const id = newId()
      const head = headFrom(id, draft)
      const free = await holdRunning(id)
      await db
        .write(['recordings'], (tx) =>
          tx.objectStore('recordings').put({ ...recordingRow(head), running: true }),
        )
        .catch((error: unknown) => {
          free()
          throw error
        })
      told()
      let number = 0
      const writer: RecordingWriter = {
        id,
        async append(columns) {
          const row = chunkRow(id, number++, columns)
          await db.write(['recordingChunks'], (tx) => tx.objectStore('recordingChunks').put(row))
        },
        async keepDetails(details) {
          const row = detailsRow(id, details)
          await db.write(['recordingDetails'], (tx) => tx.objectStore('recordingDetails').put(row))
        },
        async keepMarks(marks) {
          await update(id, (before) => ({ ...before, marks }))
        },
        async end(how, amend) {
          const ended = await settle(id, how, amend)
          free()
          return ended
        },
      }
      return writer
    },

    async add(draft, columns, details) {
      const head = checkedHead({
        ...headFrom(newId(), draft),
        ...factsOfColumns(columns),
        ended: 'by hand',
      })
      await putWhole(head, columns, details)
      return head
    },

    put: (head, columns, details) => putWhole(checkedHead(head), columns, details),

    async list(): Promise<RecordingList> {
      const read = () => db.read(['recordings'], (tx) => tx.objectStore('recordings').getAll())
      let rows = await read()
      if (rows.some(({ running }) => running)) {
        await settleLeftovers(rows.filter(({ running }) => running))
        rows = await read()
      }
      const items: RecordingHead[] = []
      const damaged: Damage[] = []
      for (const row of rows) {
        if (row.removedAtMs !== undefined || row.running) continue
        try {
          items.push(recordingHeadOf(row))
        } catch (error) {
          damaged.push({ id: row.id, where: String(error), raw: row.json })
        }
      }
      items.sort((a, b) => msOf(b.startedAt) - msOf(a.startedAt) || (a.id < b.id ? -1 : 1))
      return { items, damaged, running: rows.filter(({ running }) => running).length }
    },

    async get(id) {
      const { row, details } = await db.read(['recordings', 'recordingDetails'], async (tx) => ({
        row: await tx.objectStore('recordings').get(id),
        details: await tx.objectStore('recordingDetails').get(id),
      }))
      if (row === undefined || row.removedAtMs !== undefined) return undefined
      const head = recordingHeadOf(row)
      const sound = details !== undefined && textCheck(details.json) === details.check
      return {
        head,
        columns: await columnsFrom(id),
        details: sound ? (JSON.parse(details.json) as Json) : null,
      }
    },

    async change(id, changes) {
      const parsed = v.safeParse(recordingChanges, changes)
      if (!parsed.success) {
        throw new LogError({ code: 'not a recording', where: issueText(parsed.issues) })
      }
      return update(id, (head) => ({ ...head, ...parsed.output }))
    },

    async remove(ids) {
      const removed = await db.write(['recordings'], async (tx) => {
        const gone: string[] = []
        for (const id of ids) {
          const row = await tx.objectStore('recordings').get(id)
          if (row === undefined || row.removedAtMs !== undefined || row.running) continue
          await tx.objectStore('recordings').put({ ...row, removedAtMs: now().getTime() })
          gone.push(id)
        }
        return gone
      })
      told()
      return { ids: removed }
    },

    async restore({ ids }) {
      await db.write(['recordings'], async (tx) => {
        for (const id of ids) {
          const row = await tx.objectStore('recordings').get(id)
          if (row?.removedAtMs === undefined) continue
          const { removedAtMs: _, ...rest } = row
          await tx.objectStore('recordings').put(rest)
        }
      })
      told()
    },
  }
}

/** Deletes for good what was removed before a time. */
export async function purgeRecordings({ db }: Pick<Context, 'db'>, untilMs: number): Promise<void> {
  const due = await db.read(['recordings'], (tx) =>
    tx.objectStore('recordings').index('removed').getAllKeys(IDBKeyRange.upperBound(untilMs)),
  )
  if (due.length === 0) return
  await db.write(RECORDING_STORES, async (tx) => {
    for (const id of due) {
      const row = await tx.objectStore('recordings').get(id)
      // Another tab may have restored it meanwhile.
      if (row?.removedAtMs === undefined) continue
      await tx.objectStore('recordings').delete(id)
      await tx.objectStore('recordingChunks').delete(chunksOf(id))
      await tx.objectStore('recordingDetails').delete(id)
    }
  })
}
