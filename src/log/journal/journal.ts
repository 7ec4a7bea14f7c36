/** Where the changes of this tab go: to the keeper of the journal, or nowhere. */
import { type Change, textOfChanges } from './changes.ts'
import type { FrameKind } from './frames.ts'
import type { Keeper, PictureBytes } from './keeper.ts'
import { recorded } from './recorded.ts'
import type { JournalHeader } from './segments.ts'

/** The database's own count of writing transactions, beside the log's other counters. */
export const TURN_KEY = 'turn'
export interface TurnRow {
  /** Id of this database: another one may come in its place. */
  readonly epoch: string
  readonly turn: number
}

/** `none`: the browser has no second place; `failed`: it could not be written, this once. */
export type SecondCopy = 'kept' | 'none' | 'failed'

export interface Journal {
  copy(): SecondCopy
  /** The changes of one transaction, sent off as they come. */
  record(header: TurnRow): TurnRecord
}

export interface TurnRecord {
  over<T extends object>(tx: T): T
  /** Something that has to be kept was changed. */
  readonly changed: boolean
  /**
   * All changes are sent; resolves when it is on disk, or cannot be, and then to the reason. Never
   * rejects.
   */
  end(): Promise<unknown>
  abort(): void
}

/** Changes sent in one piece while a large transaction goes on. */
const CHANGES_A_PART = 400

export function journalInto(
  keeper: Keeper | null,
  { version, atMs }: Pick<JournalHeader, 'version' | 'atMs'>,
  onFailed: () => void,
): Journal {
  let copy: SecondCopy = keeper === null ? 'none' : 'kept'

  return {
    copy: () => copy,
    record({ epoch, turn }) {
      let changes: Change[] = []
      let pictures: PictureBytes[] = []
      let changed = false
      let sent = false
      let failure: unknown

      const send = async (kind: FrameKind): Promise<void> => {
        const text = kind === 'abort' ? '' : textOfChanges(changes)
        const with_ = pictures
        changes = []
        pictures = []
        // After a failure a record is missing: what follows it would be of no use.
        if (keeper === null || copy !== 'kept') return
        sent = true
        try {
          await keeper.append({ epoch, version, atMs }, { kind, turn, text }, with_)
        } catch (error) {
          failure ??= error
          if (copy === 'kept') onFailed()
          copy = 'failed'
        }
      }
      return {
        over: (tx) =>
          recorded(tx, (change, picture) => {
            changed = true
            changes.push(change)
            if (picture !== undefined) pictures.push(picture)
            if (changes.length >= CHANGES_A_PART) void send('part')
          }),
        get changed() {
          return changed
        },
        async end() {
          await send('end')
          return failure
        },
        abort() {
          if (sent) void send('abort')
        },
      }
    },
  }
}
