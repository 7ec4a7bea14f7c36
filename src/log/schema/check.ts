/** Reads every record against its schema and its picture, and sets the derived summaries right. */

import { rebuildBlock } from '../index/index-keeper.ts'
import { unpacked, type WholeRow } from '../index/rows.ts'
import { isRow, rowsBetween } from '../index/rows-reading.ts'
import { BLOCK_SIZE, type Block } from '../store/blocks.ts'
import type { Context } from '../store/context.ts'
import { isPictureOf } from '../store/pictures.ts'
import { NEW_STATE, STATE_KEY, type State } from '../store/state.ts'
import type { Damage, Work } from './types.ts'

export async function checkAll(
  { db, index, announcer, presence }: Context,
  { signal, progress }: Work = {},
): Promise<Damage[]> {
  const damage: Damage[] = []
  const state = await db.read(['state'], (tx) => tx.objectStore('state').get(STATE_KEY))
  const { nextSeq } = (state as State | undefined) ?? NEW_STATE
  let setRight = false
  for (let first = 0; first < nextSeq; first += BLOCK_SIZE) {
    signal?.throwIfAborted()
    progress?.(first, nextSeq)
    const rows = await rowsBetween(db, first, first + BLOCK_SIZE)
    for (const found of rows) {
      if (!isRow(found)) damage.push(found)
      else damage.push(...(await damageOf(found)))
    }
    // A block is made from all of its rows or left as it is.
    if (!rows.every(isRow)) continue
    const { before, after } = await rebuildBlock(db, first / BLOCK_SIZE)
    if (before === undefined || !sameBlock(before, after)) {
      index.took([after])
      setRight = true
    }
  }
  const listed = await recount()
  presence.note(listed)
  progress?.(nextSeq, nextSeq)
  if (setRight) announcer.announce({ kind: 'everything' })
  return damage

  async function damageOf(row: WholeRow): Promise<Damage[]> {
    const stored = unpacked(row)
    if (stored.state === 'damaged') return [stored.damage]
    const { id, picture } = stored.reading
    if (picture === null) return []
    const kept = await db
      .read(['pictures'], (tx) => tx.objectStore('pictures').get(id))
      .catch(() => undefined)
    if (kept !== undefined && isPictureOf(picture, kept.bytes)) return []
    return [{ id, where: kept === undefined ? 'picture: missing' : 'picture: damaged', raw: '' }]
  }

  function recount(): Promise<number> {
    return db.write(['readings', 'state'], async (tx) => {
      const store = tx.objectStore('state')
      const count = await tx.objectStore('readings').index('listed').count()
      const now = ((await store.get(STATE_KEY)) as State | undefined) ?? NEW_STATE
      if (now.listed !== count) await store.put({ ...now, listed: count }, STATE_KEY)
      return count
    })
  }
}

function sameBlock(a: Block, b: Block): boolean {
  return (
    a.lines === b.lines &&
    a.digests === b.digests &&
    a.takenAtMs.every((ms, i) => Object.is(ms, b.takenAtMs[i])) &&
    a.temperatureK.every((t, i) => Object.is(t, b.temperatureK[i])) &&
    a.flags.every((bits, i) => bits === b.flags[i])
  )
}
