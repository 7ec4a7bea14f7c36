import type { Context } from './context.ts'
import { beginWriting, WRITTEN_STORES, type Writing } from './writing.ts'

/** Runs a change of readings in one transaction and, once it is on disk, tells of it. */
export async function change<T>(
  { db, index, announcer, presence }: Context,
  work: (writing: Writing) => Promise<{ ids: readonly string[]; value: T }>,
): Promise<T> {
  const { ids, value, blocks, listed } = await db.write(WRITTEN_STORES, async (tx) => {
    const writing = await beginWriting(tx)
    const done = await work(writing)
    return { ...done, ...(await writing.finish()) }
  })
  presence.note(listed)
  index.took(blocks)
  announcer.announce({
    kind: 'readings',
    ids: [...ids],
    blocks: blocks.map((block) => block.block),
  })
  return value
}
