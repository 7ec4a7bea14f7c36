/** What a file of the journal holds. */
import { framesIn } from './frames.ts'

/** What a segment belongs to. */
export interface JournalHeader {
  /** Id of the database: another one may have come in its place. */
  readonly epoch: string
  /** Version of the database whose rows these are. */
  readonly version: number
  /** When the segment was begun, ms. */
  readonly atMs: number
}

export interface Segment extends JournalHeader {
  readonly name: string
  /** Turns that were completed in it. */
  readonly turns: ReadonlySet<number>
  readonly snapshotTurn: number | null
  readonly snapshotBytes: number
  /** Where its last sound frame ends. */
  readonly soundBytes: number
}

export const lastTurn = ({ turns }: Segment): number => {
  let last = 0
  for (const turn of turns) last = Math.max(last, turn)
  return last
}

export function newestSnapshot(segments: readonly Segment[]): Segment | undefined {
  return segments.reduce<Segment | undefined>(
    (best, one) =>
      one.snapshotTurn !== null && one.snapshotTurn > (best?.snapshotTurn ?? -1) ? one : best,
    undefined,
  )
}

export async function journalSegment(name: string, file: Blob): Promise<Segment | null> {
  let header: JournalHeader | undefined
  const turns = new Set<number>()
  let snapshotTurn: number | null = null
  let snapshotBytes = 0
  let soundBytes = 0
  for await (const frame of framesIn(file)) {
    const { kind, turn, end } = frame
    if (kind === 'header') header ??= headerOf(frame.text)
    if (kind === 'end' || kind === 'snapshot') turns.add(turn)
    if (kind === 'abort') turns.delete(turn)
    if (kind === 'snapshot') {
      snapshotTurn = turn
      snapshotBytes = end
    }
    soundBytes = end
  }
  if (header === undefined) return null
  return { name, ...header, turns, snapshotTurn, snapshotBytes, soundBytes }
}

function headerOf(text: string): JournalHeader | undefined {
  try {
    const { epoch, version, atMs } = JSON.parse(text) as Partial<JournalHeader>
    const known = typeof epoch === 'string' && Number.isFinite(version) && Number.isFinite(atMs)
    return known ? { epoch, version: version!, atMs: atMs! } : undefined
  } catch {
    return undefined
  }
}
