import 'fake-indexeddb/auto'
import { afterEach, describe, expect, test, vi } from 'vitest'
import type { JournalContent, Keeper } from '../../../src/log/journal/keeper.ts'
import { startJournal } from '../../../src/log/journal/start.ts'
import { DATABASE_VERSION } from '../../../src/log/migrations/upgrade.ts'
import type { Database } from '../../../src/log/store/database.ts'
import { bareDatabase, closeBareDatabases } from '../bare-database.ts'

afterEach(closeBareDatabases)

/** A database in which some turns were written. */
async function written(
  turn: number,
  state: object = { nextSeq: turn, change: turn, listed: turn },
) {
  const db = await bareDatabase()
  await db.writeUnrecorded(['state'], async (tx) => {
    await tx.objectStore('state').put({ epoch: 'a', turn }, 'turn')
    await tx.objectStore('state').put(state as never, 'state')
  })
  return db
}

const FOUND: JournalContent = {
  epoch: 'a',
  version: DATABASE_VERSION,
  atMs: 1,
  turn: 3,
  whole: true,
  bytes: 100,
  snapshotBytes: 0,
}

/** A journal that holds what is said of it, and tells what is asked. */
function journal(found: Partial<JournalContent> | null | Error) {
  const asked: string[] = []
  const tell =
    <T>(name: string, value: T) =>
    async () => {
      asked.push(name)
      return value
    }
  const keeper = {
    look: async () => {
      asked.push('look')
      if (found instanceof Error) throw found
      return found && { ...FOUND, ...found }
    },
    append: tell('append', undefined),
    replay: async (epoch: string, after: number) => {
      asked.push(`replay ${epoch} ${after}`)
      return { count: 0, whole: true }
    },
    next: tell('next', []),
    beginSnapshot: tell('snapshot', undefined),
    snapshotPart: tell('part', undefined),
    finishSnapshot: tell('finish', undefined),
    close: tell('close', undefined),
  } satisfies Keeper
  return { asked, keeper }
}

async function started(db: Database, keeper: Promise<Keeper>) {
  const onRestored = vi.fn()
  const onFailed = vi.fn()
  const options = { keeper, now: () => new Date(7000), newId: () => 'new', onRestored, onFailed }
  const begun = await startJournal(db, options)
  const kept = await begun.journal
  return { ...begun, kept, onRestored, onFailed }
}

const turnIn = (db: Database) =>
  db.read(['state'], (tx) => tx.objectStore('state').get('turn')) as Promise<unknown>
const begins = (asked: readonly string[]) => asked.filter((one) => one === 'snapshot').length

describe('a start without a journal', () => {
  test('counts turns all the same, from none or from what was there before', async () => {
    const refused = () => Promise.reject(new Error('no private file system'))
    const empty = await bareDatabase()
    const first = await started(empty, refused())
    expect([first.turn, first.listed, first.restored]).toEqual([
      { epoch: 'new', turn: 0 },
      0,
      false,
    ])
    expect(await turnIn(empty)).toEqual({ epoch: 'new', turn: 0 })
    expect([first.kept.copy(), first.onFailed.mock.calls.length]).toEqual(['none', 0])
    // A log of a version that knew no turns.
    const former = await bareDatabase()
    await former.writeUnrecorded(['state'], (tx) =>
      tx.objectStore('state').put({ nextSeq: 4, change: 4, listed: 3 } as never, 'state'),
    )
    const later = await started(former, refused())
    expect([later.turn, later.listed]).toEqual([{ epoch: 'new', turn: 1 }, 3])
  })

  test('keeps the turn that stands', async () => {
    const db = await written(5)
    const { turn } = await started(db, Promise.reject(new Error('none')))
    expect(turn).toEqual({ epoch: 'a', turn: 5 })
  })
})

describe('an empty database beside a journal', () => {
  test('waits for it and is filled, and that is said', async () => {
    for (const [whole, restored] of [
      [true, true],
      [false, 'in part'],
    ] as const) {
      const { asked, keeper } = journal({ whole })
      const begun = await started(await bareDatabase(), Promise.resolve(keeper))
      expect(asked.slice(0, 2)).toEqual(['look', 'replay a -1'])
      expect(begun.turn).toEqual({ epoch: 'a', turn: 3 })
      expect(begun.restored).toBe(restored)
      expect(begun.onRestored).not.toHaveBeenCalled()
      // Looked at once; one with a gap is brought together anew.
      expect(asked.filter((one) => one === 'look')).toHaveLength(1)
      await expect.poll(() => begins(asked)).toBe(whole ? 0 : 1)
    }
  })

  test('is left as it is where that holds nothing, is of another version, or cannot be read', async () => {
    for (const found of [null, { turn: 0 }, { version: DATABASE_VERSION + 1 }, new Error('lost')]) {
      const { asked, keeper } = journal(found)
      const begun = await started(await bareDatabase(), Promise.resolve(keeper))
      expect(asked.some((one) => one.startsWith('replay'))).toBe(false)
      expect([begun.restored, begun.turn]).toEqual([false, { epoch: 'new', turn: 0 }])
    }
  })

  test('is one of which turn, number and change are all at their beginning', async () => {
    // A row of its turn stands in each: it was opened before, and written or not.
    for (const [turn, counted, filled] of [
      [0, {}, true],
      [1, {}, false],
      [0, { nextSeq: 1 }, false],
      [0, { change: 1 }, false],
    ] as const) {
      const { asked, keeper } = journal({ epoch: 'other' })
      const state = { nextSeq: 0, change: 0, listed: 0, ...counted }
      await started(await written(turn, state), Promise.resolve(keeper))
      expect(asked.includes('replay other 0'), JSON.stringify([turn, counted])).toBe(filled)
    }
  })
})

describe('a database beside a journal', () => {
  test('that has more is brought to it, and that is told', async () => {
    const { asked, keeper } = journal({ turn: 6 })
    const db = await written(4)
    const { onRestored, kept } = await started(db, Promise.resolve(keeper))
    expect(asked).toContain('replay a 4')
    expect(onRestored).toHaveBeenCalledExactlyOnceWith(4, { epoch: 'a', turn: 6 })
    expect(await turnIn(db)).toEqual({ epoch: 'a', turn: 6 })
    expect(kept.copy()).toBe('kept')
    expect(begins(asked)).toBe(0)
  })

  test('that has as much, is of another database or version, is left', async () => {
    for (const found of [{ turn: 4 }, { turn: 9, epoch: 'b' }, { turn: 9, version: 1 }]) {
      const { asked, keeper } = journal(found)
      const { onRestored } = await started(await written(4), Promise.resolve(keeper))
      expect(asked.some((one) => one.startsWith('replay'))).toBe(false)
      expect(onRestored).not.toHaveBeenCalled()
    }
  })

  test('that cannot be read is told as failed, and nothing goes into it', async () => {
    const { asked, keeper } = journal(new Error('lost'))
    const { kept, onFailed } = await started(await written(4), Promise.resolve(keeper))
    expect(onFailed).toHaveBeenCalledOnce()
    expect(kept.copy()).toBe('none')
    expect(begins(asked)).toBe(0)
  })
})

describe('a snapshot is made', () => {
  test.each<readonly [string, number, Partial<JournalContent> | null, 0 | 1]>([
    ['where there is no journal yet', 1, null, 1],
    ['not of a log in which nothing was ever written', 0, null, 0],
    ['where the journal is of another database', 4, { epoch: 'b', turn: 4 }, 1],
    ['not of nothing beside another’s', 0, { epoch: 'b', turn: 0 }, 0],
    ['where the journal has less', 4, { turn: 3 }, 1],
    ['not where it has as much', 4, { turn: 4 }, 0],
    ['where it is of another version', 4, { turn: 4, version: 1 }, 1],
    ['where a turn is missing', 4, { turn: 4, whole: false }, 1],
    ['not while it has grown by 4 MB', 4, { turn: 4, bytes: 4_000_000 }, 0],
    ['when it has grown by more', 4, { turn: 4, bytes: 4_000_001 }, 1],
    [
      'not while it is twice its snapshot and 4 MB',
      4,
      { turn: 4, snapshotBytes: 5, bytes: 4_000_010 },
      0,
    ],
    ['when it is longer', 4, { turn: 4, snapshotBytes: 5, bytes: 4_000_011 }, 1],
  ])('%s', async (_, turn, found, times) => {
    const { asked, keeper } = journal(found)
    const state = { nextSeq: turn, change: turn, listed: 0 }
    await started(await written(turn, state), Promise.resolve(keeper))
    if (times === 1) await expect.poll(() => asked.includes('finish')).toBe(true)
    else await new Promise((resolve) => setTimeout(resolve, 5))
    expect(begins(asked)).toBe(times)
  })
})
