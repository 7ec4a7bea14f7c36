import { useSignal } from '@preact/signals'
import { useRef } from 'preact/hooks'
import { go } from '../../ui/router.ts'
import { askToKeep } from '../../ui/settings.ts'
import { say } from '../../ui/spoken.tsx'
import { logSentence } from '../../ui/words/log-errors.ts'
import { useServices } from '../services.ts'
import type { SpectrumModel } from './model-types.ts'
import { spectrumRecord } from './spectrum-record.ts'

/** Name, notes, and the one large button. "Saved" appears when the transaction has completed. */
export function SaveDock({ model }: { model: SpectrumModel }) {
  const { log, now } = useServices()
  const saving = useSignal(false)
  const failure = useSignal<string | null>(null)
  const dialog = useRef<HTMLDialogElement>(null)
  const { object, remarks } = model
  const measured = model.measured.value
  const ready = measured?.result.ok === true && !model.busy.value

  const save = async () => {
    const using = model.inUse.value
    if (!measured?.result.ok || !using || saving.value) return
    saving.value = true
    failure.value = null
    try {
      const record = spectrumRecord({
        input: measured.input,
        result: measured.result,
        responseId: using.id,
        materialId: model.materialId.value,
        cover: model.cover.value,
        fileName: model.pile.fileOf(model.pile.roles.value.glow)?.name ?? '',
        simulated: model.simulated.value,
        truthK: model.truthK.value,
        object: object.value,
        notes: remarks.value,
        now: now(),
      })
      const opened = await log
      const { id } = await opened.add(record)
      say('Saved.', { label: 'Open', run: () => go('log', id) })
      remarks.value = ''
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
              value={remarks.value}
              onInput={(event) => {
                remarks.value = event.currentTarget.value
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
            {object.value || remarks.value ? object.value || 'Notes' : 'Name, notes'}
          </button>
          <button
            type="button"
            class="primary grow"
            disabled={!ready || saving.value}
            onClick={() => void save()}
          >
            {saving.value ? 'Saving …' : 'Save reading'}
          </button>
        </div>
      </div>
    </>
  )
}
