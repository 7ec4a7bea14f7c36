import type { ComponentChildren } from 'preact'
import type { Log } from '../log/schema/types.ts'
import { useSaving } from './use-saving.ts'

/** What is to be kept, named, and the button that keeps it. */
export function SaveForm({
  save,
  word,
  look,
  stacked = false,
  children,
}: {
  save: (log: Log) => Promise<void>
  /** On the button. */
  word: string
  /** Class of the button. */
  look?: string
  /** Fields below each other instead of in a row with the button. */
  stacked?: boolean
  children: ComponentChildren
}) {
  const { busy, run } = useSaving()
  return (
    <form
      class={stacked ? 'stack' : 'row'}
      onSubmit={(event) => {
        event.preventDefault()
        void run(save)
      }}
    >
      {children}
      <button type="submit" class={look} disabled={busy.value}>
        {word}
      </button>
    </form>
  )
}
