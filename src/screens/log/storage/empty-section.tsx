import { useSignal } from '@preact/signals'
import type { StatusModel } from '../../../session/log/status-model.ts'
import { say } from '../../../ui/spoken.tsx'
import { TextField } from '../../../ui/text-field.tsx'
import { useSaving } from '../../../ui/use-saving.ts'
import { showCount } from '../../../ui/words/log.ts'
import { EMPTY_WORD } from '../../../ui/words/storage.ts'

/** Everything gone for good: a backup is offered first, and a word has to be typed. */
export function EmptySection({ status }: { status: StatusModel }) {
  const typed = useSignal('')
  const kit = useSignal(false)
  const { busy, run } = useSaving()
  const unsaved = status.status.value?.unsavedElsewhere ?? 0
  const ready = typed.value.trim().toLowerCase() === EMPTY_WORD
  const empty = () =>
    run(async (log) => {
      await log.empty({ kit: kit.value })
      typed.value = ''
      say('The log is empty.')
    })
  return (
    <details>
      <summary>Empty the log</summary>
      <form
        class="inside"
        onSubmit={(event) => {
          event.preventDefault()
          if (ready) void empty()
        }}
      >
        <p>
          Every reading and picture, for good; no undo.{' '}
          {unsaved > 0 && <strong>{showCount(unsaved)} of it are in no backup.</strong>}
        </p>
        {unsaved > 0 && (
          <button
            type="button"
            onClick={() => document.querySelector('main h2')?.scrollIntoView({ block: 'center' })}
          >
            Make a backup first
          </button>
        )}
        <label class="choice">
          <input
            type="checkbox"
            checked={kit.value}
            onChange={(event) => {
              kit.value = event.currentTarget.checked
            }}
          />
          The kit as well
        </label>
        <TextField
          label={`Type “${EMPTY_WORD}” to go on`}
          value={typed.value}
          onValue={(value) => {
            typed.value = value
          }}
        />
        <button type="submit" class="danger" disabled={!ready || busy.value}>
          Empty the log
        </button>
      </form>
    </details>
  )
}
