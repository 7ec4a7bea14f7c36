import {
  dueForBackup,
  headOf,
  type KitRow,
  kitItemOf,
  type PictureRow,
  unpacked,
} from '../index/rows.ts'
import { LogError } from '../schema/errors.ts'
import type { ImportReport } from '../schema/import-preview.ts'
import type { KitItem } from '../schema/kit-schema.ts'
import type { Reading } from '../schema/reading-schema.ts'
import type { Work } from '../schema/types.ts'
import type { Context } from '../store/context.ts'
import type { WriteTransaction } from '../store/database.ts'
import { isPictureOf } from '../store/pictures.ts'
import { beginWriting, WRITTEN_STORES, type Writable, type Writing } from '../store/writing.ts'
import { mergedReading, relationOf, sameItem } from './merge.ts'

const STORES = [...WRITTEN_STORES, 'kit', 'incoming'] as const
type Merging = WriteTransaction<(typeof STORES)[number]>
type Conflicts = 'mine' | 'theirs'
type Report = { -readonly [K in keyof ImportReport]: number }

/**
 * Everything set aside goes into the log in one transaction, or nothing does.
 *
 * @param pictureIds readings whose pictures the file brings; others may speak of one that stayed behind
 */
export async function mergeIncoming(
  context: Context,
  keys: readonly number[],
  pictureIds: ReadonlySet<string>,
  { conflicts, signal, progress }: { conflicts: Conflicts } & Work,
): Promise<ImportReport> {
  const { db, index, announcer, presence, now } = context
  const at = now().toISOString()
  const report: Report = { added: 0, changed: 0, kept: 0, pictures: 0 }
  const listed = await db
    .write(STORES, async (tx) => {
      const writing = await beginWriting(tx as unknown as Writable)
      for (const [i, key] of keys.entries()) {
        signal?.throwIfAborted()
        progress?.(i, keys.length)
        const row = await tx.objectStore('incoming').get(key)
        // Cleared meanwhile, by another tab or as left over: what would be merged is not whole.
        if (row === undefined) {
          throw new LogError({ code: 'storage failed', detail: 'incoming records are gone' })
        }
        if (row.kind === 'readings') {
          // Side by side: each has an id of its own, and waiting for each costs most of the time.
          await Promise.all(
            row.readings.map((reading) => {
              const brought = pictureIds.has(reading.id)
              return mergeReading(writing, reading, brought, conflicts, at, report)
            }),
          )
        } else if (row.kind === 'kit') {
          for (const item of row.items) await mergeItem(tx, writing, item, conflicts, report)
        } else {
          for (const picture of row.pictures) await mergePicture(tx, writing, picture, report)
        }
        await tx.objectStore('incoming').delete(key)
        await writing.spill()
      }
      return (await writing.finish()).listed
    })
    .catch((error: unknown) => {
      throw signal?.aborted ? signal.reason : error
    })
  progress?.(keys.length, keys.length)
  presence.note(listed)
  index.forget()
  announcer.announce({ kind: 'everything' })
  announcer.announce({ kind: 'kit' })
  return report
}

async function mergeReading(
  writing: Writing,
  inFile: Reading,
  brought: boolean,
  conflicts: Conflicts,
  at: string,
  report: Report,
): Promise<void> {
  const row = await writing.wholeRow(inFile.id)
  const mine = row && unpacked(row)
  const here = mine?.state === 'sound' ? mine.reading.picture : null
  const theirs = { ...inFile, picture: brought ? inFile.picture : here }
  if (row === undefined || mine === undefined) {
    await writing.insert(theirs, undefined)
    report.added++
    return
  }
  if (row.removedAtMs !== undefined) {
    // Deleted here, restored by the file, with what was known of it here.
    const sound = mine.state === 'sound' && relationOf(mine.reading, theirs) === 'conflicting'
    await writing.update(row, sound ? mergedReading(mine.reading, theirs, at) : theirs)
    report.added++
  } else if (mine.state === 'damaged') {
    if (conflicts === 'theirs') {
      await writing.update(row, theirs)
      report.changed++
    } else report.kept++
  } else if (relationOf(mine.reading, theirs) === 'conflicting' && conflicts === 'theirs') {
    await writing.update(row, mergedReading(mine.reading, theirs, at))
    report.changed++
  } else {
    // Came without its picture before, and with it now.
    const same = mine.state === 'sound' && relationOf(mine.reading, theirs) === 'same'
    if (same && brought && here === null)
      await writing.update(row, { ...mine.reading, picture: theirs.picture })
    report.kept++
  }
}

async function mergeItem(
  tx: Merging,
  writing: Writing,
  theirs: KitItem,
  conflicts: Conflicts,
  report: Report,
): Promise<void> {
  const row = await tx.objectStore('kit').get(theirs.id)
  const here = row !== undefined && row.removedAtMs === undefined
  if (here && (conflicts === 'mine' || sameItem(kitItemOf(row), theirs))) {
    report.kept++
    return
  }
  const next: KitRow = dueForBackup(theirs)
    ? { id: theirs.id, item: theirs, change: writing.nextChange() }
    : { id: theirs.id, item: theirs }
  await tx.objectStore('kit').put(next)
  report[here ? 'changed' : 'added']++
}

/** A picture is put where its reading lacks it, or has it damaged. */
async function mergePicture(
  tx: Merging,
  writing: Writing,
  picture: PictureRow,
  report: Report,
): Promise<void> {
  const here = await tx.objectStore('pictures').get(picture.id)
  if (here !== undefined && isPictureOf(picture.facts, here.bytes)) return
  const row = await writing.row(picture.id)
  const stored = row && headOf(row)
  if (stored?.state !== 'sound' || stored.reading.picture?.crc32 !== picture.facts.crc32) return
  await tx.objectStore('pictures').put(picture)
  report.pictures++
}
