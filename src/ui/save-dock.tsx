import { type Signal, useSignal } from '@preact/signals'
import type { ComponentChildren } from 'preact'
import { useRef } from 'preact/hooks'
import type { Log } from '../log/schema/types.ts'
import { MayBeCleared } from './may-be-cleared.tsx'
import { go } from './router.ts'
import { mayBeCleared } from './settings.ts'
import { say } from './spoken.tsx'
import { TextField } from './text-field.tsx'
import { useSavingInPlace } from './use-saving.ts'

/** Name, notes, and the one large button. "Saved" appears when the transaction has completed. */
export function SaveDock({
  object,
  notes,
  ready,
  what,
  save,
  word = 'Save reading',
  mustSay = false,
  ask,
  onSaved,
  children,
}: {
  object: Signal<string>
  notes: Signal<string>
  ready: boolean
  /** What would be saved: the same thing is not saved twice (gloves tap twice). */
  what: unknown
  /** Puts the reading into the log and resolves to its id. */
  save: (log: Log) => Promise<string>
  /** On the button. */
  word?: string
  /** Something in the dialog must be said first: the button then opens it. */
  mustSay?: boolean
  /** What must be said; it stands in the dialog only then. */
  ask?: ComponentChildren
  onSaved?: (log: Log) => void
  /** Further fields beside name and notes. */
  children?: ComponentChildren
}) {
  const { busy, failure, run } = useSavingInPlace()
  const dialog = useRef<HTMLDialogElement>(null)
  const saved = useSignal<readonly unknown[]>([])
  const savedId = useSignal('')
  const now = [what, object.value, notes.value]
  const stands = saved.value.length > 0 && now.every((part, i) => part === saved.value[i])

  const store = () =>
    run(async (log) => {
      const id = await save(log)
      notes.value = ''
      saved.value = [what, object.value, '']
      savedId.value = id
      onSaved?.(log)
      say('Saved.', { label: 'Open', run: () => go('log', id) })
      clearable.value = await mayBeCleared(log)
    })
  const asking = useSignal(false)
  const clearable = useSignal(false)
  const press = () => {
    if (!mustSay) return void store()
    asking.value = true
    dialog.current?.showModal()
  }

  return (
    <>
      <dialog
        ref={dialog}
        aria-label="Name and notes"
        onClose={() => {
          asking.value = false
        }}
      >
        <form
          method="dialog"
          class="stack"
          onSubmit={() => {
            if (asking.value && !mustSay) void store()
          }}
        >
          <TextField
            label="Object"
            value={object.value}
            onValue={(typed) => {
              object.value = typed
            }}
          />
          <label class="field">
            <span>Notes</span>
            <textarea
              rows={4}
              maxLength={20000}
              value={notes.value}
              onInput={(event) => {
                notes.value = event.currentTarget.value
              }}
            />
          </label>
          {asking.value && ask}
          {children}
          <button
            type="submit"
            class={asking.value ? 'primary' : undefined}
            disabled={asking.value && mustSay}
          >
            {asking.value ? word : 'Done'}
          </button>
        </form>
      </dialog>
      <div class="dock stack">
        {failure.value && (
          <p role="alert" class="failure">
            {failure.value}
          </p>
        )}
        {stands && (
          <a class="button" href={`/reading/check/${savedId.value}`}>
            Can that be true?
          </a>
        )}
        {clearable.value && <MayBeCleared />}
        <div class="row">
          <button type="button" class="grow" onClick={() => dialog.current?.showModal()}>
            {object.value || notes.value ? object.value || 'Notes' : 'Name, notes'}
          </button>
          <button
            type="button"
            class="primary grow"
            disabled={!ready || stands || busy.value}
            onClick={press}
          >
            {busy.value ? 'Saving …' : stands ? 'Saved' : word}
          </button>
        </div>
      </div>
    </>
  )
}
