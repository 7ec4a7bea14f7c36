/**
 * A file on its way in: every record is checked and set aside in the database, in batches; nothing of
 * the log changes before the person has seen what would. Then one transaction merges all or nothing.
 */

import { idOfRow, kitItemOf, type PictureRow, unpacked } from '../index/rows.ts'
import { isRow, namedRows } from '../index/rows-reading.ts'
import { summaryOf } from '../index/summary.ts'
import { addRecordings } from '../recordings/recording-files.ts'
import { recordingsOf } from '../recordings/recordings.ts'
import type { Recordings } from '../recordings/types.ts'
import type { ImportCounts, ImportPreview } from '../schema/import-preview.ts'
import type { KitItem } from '../schema/kit-schema.ts'
import type { PictureFacts, Reading } from '../schema/reading-schema.ts'
import type { Summary, Work } from '../schema/types.ts'
import type { Context } from '../store/context.ts'
import type { IncomingRow } from '../store/incoming.ts'
import { withoutMetadata } from '../store/picture-metadata.ts'
import { isPictureOf } from '../store/pictures.ts'
import { beginsAsZip } from './content.ts'
import { contentInWorker, recordingsInWorker } from './content-calls.ts'
import { relationOf, sameItem } from './merge.ts'
import { mergeIncoming } from './merge-incoming.ts'
import { RefusedFile, wrongContent } from './refused.ts'

const RECORDS_A_BATCH = 100
const PICTURE_BYTES_A_BATCH = 1_000_000
const EXAMPLES = 20

type Counts = { -readonly [K in keyof ImportCounts]: number }

/** See Log.readFile. */
export async function readFile(
  context: Context,
  file: Blob,
  work: Work = {},
): Promise<ImportPreview> {
  const aside = setAside(context)
  try {
    const seen = await readInto(context, file, work, aside)
    const recordings = recordingsOf(context)
    const fresh = await newRecordings(recordings, file, work.signal)
    return {
      ...seen,
      recordings: fresh,
      async merge(options) {
        const report = await mergeIncoming(context, aside.keys, aside.pictureIds, options)
        // All were read and found sound before; each of them is whole or not there.
        if (fresh > 0) await addRecordings(recordings, recordingsInWorker(file))
        return report
      },
      discard: aside.discard,
    }
  } catch (error) {
    await aside.discard().catch(() => {})
    throw error
  }
}

/** How many recordings of a file are not here; all are checked. @throws RefusedFile */
async function newRecordings(
  recordings: Recordings,
  file: Blob,
  signal: AbortSignal | undefined,
): Promise<number> {
  if (!(await beginsAsZip(file))) return 0
  let fresh = 0
  for await (const { head } of recordingsInWorker(file, signal === undefined ? {} : { signal })) {
    if ((await recordings.get(head.id).catch(() => null)) === undefined) fresh++
  }
  return fresh
}

async function readInto(
  context: Context,
  file: Blob,
  work: Work,
  aside: Aside,
): Promise<Pick<ImportPreview, 'readings' | 'kit' | 'pictures' | 'examples'>> {
  const readingCounts: Counts = { new: 0, same: 0, conflicting: 0, foreign: 0 }
  const kitCounts: Counts = { new: 0, same: 0, conflicting: 0, foreign: 0 }
  const examples: { here: Summary; inFile: Summary }[] = []
  /** Pictures that the readings of the file speak of. */
  const expected = new Map<string, PictureFacts>()
  const ids = new Set<string>()
  let newPictures = 0
  let readings: Reading[] = []
  let items: KitItem[] = []
  let pictures: PictureRow[] = []
  let pictureBytes = 0

  const flush = async () => {
    if (readings.length > 0) {
      await compareReadings(context, readings, readingCounts, examples)
      await aside.put({ kind: 'readings', readings })
      readings = []
    }
    if (items.length > 0) {
      await compareKit(context, items, kitCounts)
      await aside.put({ kind: 'kit', items })
      items = []
    }
    if (pictures.length > 0) {
      newPictures += await missingPictures(context, pictures)
      await aside.put({ kind: 'pictures', pictures })
      pictures = []
      pictureBytes = 0
    }
  }

  const once = (id: string) => {
    if (ids.has(id)) throw wrongContent(`${id}: twice`)
    ids.add(id)
  }

  for await (const content of contentInWorker(file, work)) {
    if (content.kind === 'reading') {
      const { id, picture } = content.reading
      once(id)
      if (picture !== null) expected.set(id, picture)
      readings.push(content.reading)
    } else if (content.kind === 'kit') {
      once(content.item.id)
      items.push(content.item)
    } else {
      const facts = expected.get(content.id)
      // A picture that no reading of the file speaks of has no place to go.
      if (facts === undefined) continue
      pictures.push(checkedPicture(content.id, facts, content.bytes))
      pictureBytes += content.bytes.length
    }
    const records = readings.length + items.length
    if (records >= RECORDS_A_BATCH || pictureBytes >= PICTURE_BYTES_A_BATCH) await flush()
  }
  await flush()
  return { readings: readingCounts, kit: kitCounts, pictures: newPictures, examples }
}

/** The picture that the reading was saved with, and no more than a picture. */
function checkedPicture(id: string, facts: PictureFacts, bytes: Uint8Array): PictureRow {
  const clean = withoutMetadata(bytes, facts.type)
  if (!isPictureOf(facts, bytes) || clean === undefined || clean.length !== bytes.length) {
    throw new RefusedFile({ code: 'wrong picture', id })
  }
  return { id, facts, bytes: clean }
}

async function compareReadings(
  { db }: Context,
  readings: readonly Reading[],
  counts: Counts,
  examples: { here: Summary; inFile: Summary }[],
): Promise<void> {
  const found = await namedRows(
    db,
    readings.map(({ id }) => id),
    true,
  )
  const here = new Map(found.map((one) => [isRow(one) ? idOfRow(one) : one.id, one]))
  for (const theirs of readings) {
    const one = here.get(theirs.id)
    const mine = one && isRow(one) ? unpacked(one) : undefined
    if (one === undefined) counts.new++
    // What is here is damaged: the file's version brings it back.
    else if (mine?.state !== 'sound') counts.conflicting++
    else {
      const relation = relationOf(mine.reading, theirs)
      counts[relation]++
      if (relation === 'conflicting' && examples.length < EXAMPLES) {
        examples.push({ here: summaryOf(mine.reading), inFile: summaryOf(theirs) })
      }
    }
  }
}

async function compareKit(
  { db }: Context,
  items: readonly KitItem[],
  counts: Counts,
): Promise<void> {
  const rows = await db.read(['kit'], (tx) =>
    Promise.all(items.map(({ id }) => tx.objectStore('kit').get(id))),
  )
  items.forEach((theirs, i) => {
    const row = rows[i]
    if (row === undefined || row.removedAtMs !== undefined) counts.new++
    else counts[sameItem(kitItemOf(row), theirs) ? 'same' : 'conflicting']++
  })
}

async function missingPictures({ db }: Context, pictures: readonly PictureRow[]): Promise<number> {
  const keys = await db.read(['pictures'], (tx) =>
    Promise.all(pictures.map(({ id }) => tx.objectStore('pictures').getKey(id))),
  )
  return keys.filter((key) => key === undefined).length
}

type Content<T = IncomingRow> = T extends IncomingRow ? Omit<T, 'batch' | 'atMs'> : never

interface Aside {
  readonly keys: readonly number[]
  /** Readings whose pictures were set aside. */
  readonly pictureIds: ReadonlySet<string>
  put(content: Content): Promise<void>
  discard(): Promise<void>
}

function setAside({ db, newId, now }: Context): Aside {
  const keys: number[] = []
  const batch = newId()
  const pictureIds = new Set<string>()
  return {
    keys,
    pictureIds,
    async put(content) {
      if (content.kind === 'pictures') for (const { id } of content.pictures) pictureIds.add(id)
      const row = { batch, atMs: now().getTime(), ...content } as IncomingRow
      keys.push(await db.write(['incoming'], (tx) => tx.objectStore('incoming').add(row)))
    },
    async discard() {
      const all = keys.splice(0)
      await db.write(['incoming'], async (tx) => {
        await Promise.all(all.map((key) => tx.objectStore('incoming').delete(key)))
      })
    },
  }
}
