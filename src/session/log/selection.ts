import { type ReadonlySignal, signal } from '@preact/signals'
import type { LogView } from '../../log/schema/types.ts'

/**
 * Readings chosen from the list; choosing is a mode of its own, so that a mistaken tap opens
 * nothing.
 */
export interface Selection {
  /** Ids, in the order of choosing; null while nothing is being chosen. */
  readonly chosen: ReadonlySignal<ReadonlySet<string> | null>
  /** All of a long view are being gathered. */
  readonly gathering: ReadonlySignal<boolean>
  begin(ids?: readonly string[]): void
  toggle(id: string): void
  /**
   * Chooses all of a view, a slice at a time: the screen stays responsive with a hundred thousand.
   */
  all(view: LogView): Promise<void>
  none(): void
  end(): void
}

const SLICE = 1000

export function createSelection(): Selection {
  const chosen = signal<ReadonlySet<string> | null>(null)
  const gathering = signal(false)
  /** Counts the changes: gathering ends when anything else was chosen meanwhile. */
  let turn = 0

  const set = (ids: ReadonlySet<string> | null) => {
    turn++
    gathering.value = false
    chosen.value = ids
  }
  return {
    chosen,
    gathering,
    begin: (ids = []) => set(new Set(ids)),
    toggle(id) {
      const next = new Set(chosen.peek())
      if (!next.delete(id)) next.add(id)
      set(next)
    },
    async all(view) {
      const mine = ++turn
      gathering.value = true
      const ids = new Set<string>()
      for (let from = 0; from < view.count; from += SLICE) {
        for (const id of view.ids(from, Math.min(from + SLICE, view.count))) ids.add(id)
        if (from + SLICE < view.count) await new Promise((resolve) => setTimeout(resolve))
        if (mine !== turn) return
      }
      set(ids)
    },
    none: () => set(new Set()),
    end: () => set(null),
  }
}
