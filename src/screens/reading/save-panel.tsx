import { useSignal } from '@preact/signals'
import { useRef } from 'preact/hooks'
import type { Log } from '../../log/types.ts'
import { go } from '../../ui/router.ts'
import { askToKeep } from '../../ui/settings.ts'
import { logSentence } from '../../ui/words/log-errors.ts'
import { useServices } from '../services.ts'
import type { ReadingModel } from './reading-model.ts'
import { readingRecord } from './reading-record.ts'

interface Said {
  readonly label: string
  readonly run: () => void
}

/** Name, notes, and the one large button. "Saved" appears when the transaction has completed. */
export function SavePanel({
  model,
  log,
  onSaved,
}: {
  model: ReadingModel
  log: Promise<Log>
  onSaved: (text: string, action?: Said) => void
}) {
  const { now } = useServices()
  const object = useSignal('')
  const notes = useSignal('')
  const saving = useSignal(false)
  const failure = useSignal<string | null>(null)
  const dialog = useRef<HTMLDialogElement>(null)
  const estimate = model.estimate.value
  const measurement = model.measurement.value
  const photo = model.glow.photo.value

  const save = async () => {
    if (!estimate || !measurement || !photo || saving.value) return
    saving.value = true
    failure.value = null
    try {
      const opened = await log
      const record = readingRecord({
        estimate,
        input: model.input.value,
        measurement,
        photo,
        simulatedTruthK: model.simulatedTruthK.value,
        cover: model.choices.value.cover,
        materialId: model.choices.value.materialId,
        labels: { object: object.value, notes: notes.value },
        now: now(),
      })
      const picture = await photo.regionPicture(measurement.region).catch(() => undefined)
      const { id } = await opened.add(record, picture)
      onSaved('Saved.', { label: 'Open', run: () => go('log', id) })
      notes.value = ''
      void askToKeep(opened)
    } catch (error) {
      failure.value = logSentence(error)
    } finally {
      saving.value = false
    }
  }

  return (
    <>
      <dialog ref={dialog} aria-label="Name and notes">
        <form method="dialog" class="stack">
          <label class="field">
            <span>Object</span>
            <input
              type="text"
              maxLength={200}
              value={object.value}
              onInput={(event) => {
                object.value = event.currentTarget.value
              }}
            />
          </label>
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
          <button type="submit">Done</button>
        </form>
      </dialog>
      <div class="dock stack">
        {failure.value && (
          <p role="alert" class="failure">
            {failure.value}
          </p>
        )}
        <div class="row">
          <button type="button" class="grow" onClick={() => dialog.current?.showModal()}>
            {object.value || notes.value ? object.value || 'Notes' : 'Name, notes'}
          </button>
          <button
            type="button"
            class="primary grow"
            disabled={!estimate || saving.value}
            onClick={() => void save()}
          >
            {saving.value ? 'Saving …' : 'Save reading'}
          </button>
        </div>
      </div>
    </>
  )
}
