/** What the journal's files hold after a turn. Hardly ever needed: it comes when it is. */
import { type Change, JOURNALED_STORES } from './changes.ts'
import { framesIn } from './frames.ts'
import { changesOfText, leftOf } from './read-changes.ts'
import { newestSnapshot, type Segment } from './segments.ts'

/**
 * @param segments of one database
 * @returns what is left of all changes after the turn; `whole`: all could be read
 */
export async function changesAfter(
  segments: readonly Segment[],
  afterTurn: number,
  read: (name: string) => Promise<Blob>,
): Promise<{ changes: Change[]; whole: boolean }> {
  const newest = newestSnapshot(segments)
  const base = newest !== undefined && newest.snapshotTurn! > afterTurn ? newest : undefined
  const from = base?.snapshotTurn ?? afterTurn
  const changes: Change[] = []
  let whole = true
  if (base !== undefined) {
    changes.push(...JOURNALED_STORES.map((store) => [store] as const))
    const { snapshot: parts, whole: all } = await recordsIn(await read(base.name))
    whole = all
    // No spreading: a large log has more changes than a call may have arguments.
    for (const change of parts ?? []) changes.push(change)
  }
  const records: CompletedTurn[] = []
  for (const { name } of segments) {
    const { records: some, whole: all } = await recordsIn(await read(name))
    whole &&= all
    for (const record of some) if (record.turn > from) records.push(record)
  }
  records.sort((a, b) => a.turn - b.turn)
  for (const record of records) for (const change of record.changes) changes.push(change)
  return { changes: leftOf(changes), whole }
}

interface CompletedTurn {
  readonly turn: number
  readonly changes: readonly Change[]
}

/** The completed records of a segment, and its snapshot. */
async function recordsIn(
  file: Blob,
): Promise<{ records: CompletedTurn[]; snapshot: Change[] | null; whole: boolean }> {
  let records: CompletedTurn[] = []
  let snapshot: Change[] | null = null
  let parts: Change[] = []
  let partsTurn = Number.NaN
  let whole = true
  for await (const frame of framesIn(file)) {
    const { kind, turn } = frame
    // Parts of a turn that never came to its end.
    if (turn !== partsTurn) parts = []
    partsTurn = turn
    if (kind === 'part' || kind === 'end') {
      const read = changesOfText(frame.text)
      whole &&= read.whole
      for (const change of read.changes) parts.push(change)
    }
    if (kind === 'end') records.push({ turn, changes: parts })
    if (kind === 'snapshot') snapshot = parts
    if (kind === 'abort') records = records.filter((record) => record.turn !== turn)
    if (kind !== 'part') parts = []
  }
  return { records, snapshot, whole }
}
