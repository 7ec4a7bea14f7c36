/** The database brought to where the journal is: all of it, or what it has lost at its end. */
import type { Database } from '../store/database.ts'
import { NEW_STATE, STATE_KEY, type State } from '../store/state.ts'
import { JOURNALED_STORES, type JournaledStore } from './changes.ts'
import { TURN_KEY, type TurnRow } from './journal.ts'
import type { Keeper, ReplayedChange } from './keeper.ts'

const CHANGES_A_PIECE = 500

interface AnyStore {
  put(value: unknown, key?: IDBValidKey): Promise<unknown>
  delete(key: IDBValidKey | IDBKeyRange): Promise<unknown>
  clear(): Promise<unknown>
}
interface Pictures {
  getAllKeys(): Promise<string[]>
  delete(key: string): Promise<void>
}
/** These name their rows' keys beside them. */
const KEYED_OUTSIDE: readonly JournaledStore[] = ['inputs', 'settings', 'state']

/**
 * Applies what the journal holds after the database's own turn. Pictures first, in pieces: one without
 * its reading does no harm. Then all else in one transaction: a database that is half restored is
 * still at its former turn, and is restored again.
 *
 * @param from the turn at which the database is; null: there is nothing in it
 * @returns how many readings are listed now; null when another tab was quicker
 */
export async function restoreFrom(
  db: Database,
  keeper: Keeper,
  epoch: string,
  from: number | null,
  to: number,
): Promise<number | null> {
  const count = await keeper.replay(epoch, from ?? -1)
  const rows: ReplayedChange[] = []
  const put = new Set<IDBValidKey>()
  for (let done = 0; done < count; done += CHANGES_A_PIECE) {
    const piece = await keeper.next(CHANGES_A_PIECE)
    const pictures = piece.filter(({ bytes }) => bytes !== undefined)
    rows.push(...piece.filter(({ change }) => change[0] !== 'pictures' || change.length < 3))
    if (pictures.length === 0) continue
    for (const { change } of pictures) put.add(change[1]!)
    await db.writeUnrecorded(['pictures'], (tx) =>
      Promise.all(
        pictures.map(({ change, bytes }) =>
          tx.objectStore('pictures').put({ ...(change[2] as { id: string }), bytes } as never),
        ),
      ),
    )
  }
  return db.writeUnrecorded([...JOURNALED_STORES, 'blocks'], async (tx) => {
    const state = tx.objectStore('state')
    const here = (await state.get(TURN_KEY)) as TurnRow | undefined
    if ((here?.turn ?? null) !== from) return null
    const asked: Promise<unknown>[] = []
    for (const { change } of rows) {
      const [name, key, value] = change
      const store = tx.objectStore(name) as unknown as AnyStore
      if (key === undefined)
        asked.push(
          name === 'pictures' ? dropOthers(tx.objectStore('pictures'), put) : store.clear(),
        )
      else if (change.length === 4) asked.push(store.delete(IDBKeyRange.bound(key, value)))
      else if (change.length === 2) asked.push(store.delete(key))
      else asked.push(store.put(value, KEYED_OUTSIDE.includes(name) ? key : undefined))
    }
    await Promise.all(asked)
    // Blocks are made again from the readings at the first search.
    await tx.objectStore('blocks').clear()
    const now = ((await state.get(STATE_KEY)) as State | undefined) ?? NEW_STATE
    await state.put({ ...now, blocksVersion: 0 }, STATE_KEY)
    await state.put({ epoch, turn: to } satisfies TurnRow, TURN_KEY)
    return now.listed
  })
}

/** The pictures that the journal no longer names. */
async function dropOthers(pictures: Pictures, kept: ReadonlySet<IDBValidKey>): Promise<void> {
  const keys = await pictures.getAllKeys()
  await Promise.all(keys.filter((key) => !kept.has(key)).map((key) => pictures.delete(key)))
}
