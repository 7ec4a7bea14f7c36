import { useSignal } from '@preact/signals'
import { useEffect, useRef } from 'preact/hooks'
import type { Changes, Editable, Reading } from '../../../log/schema/types.ts'
import { discardDraft, entryDraft, storeDraft } from '../../../session/log/entry-draft.ts'
import {
  changedFields,
  changesOfDraft,
  type FieldDraft,
  type FieldName,
  type FieldProblem,
  type FigureField,
  fieldDraftOf,
} from '../../../session/log/field-draft.ts'
import type { ListModel } from '../../../session/log/list-model.ts'
import { Notices } from '../../../ui/notices.tsx'
import { temperatureUnit } from '../../../ui/temperature.ts'
import type { Notice } from '../../../ui/words/estimate.ts'
import { noticeFromLogError } from '../../../ui/words/log-errors.ts'
import css from '../log.module.css'
import { Fields } from './fields.tsx'

/**
 * Fields with the two buttons at the foot. What was typed stays until it is saved or put down: over a
 * failure, and over a reload.
 */
export function DraftForm({
  draftKey,
  of,
  figure,
  list,
  saveWord,
  onSave,
  onDiscard,
}: {
  draftKey: string
  of: Editable & Partial<Pick<Reading, 'method' | 'result'>>
  figure: FigureField
  list: ListModel
  saveWord: string
  /** Rejects when nothing was saved. */
  onSave: (changes: Changes) => Promise<void>
  onDiscard: () => void
}) {
  // The unit of the typed numbers is the one in which the form was opened.
  const unit = useRef(temperatureUnit.peek()).current
  const before = useRef(fieldDraftOf(of, unit)).current
  const draft = useSignal<FieldDraft>(entryDraft(draftKey) ?? before)
  const problems = useSignal<Readonly<Partial<Record<FieldName, FieldProblem>>>>({})
  const failure = useSignal<Notice | null>(null)
  const saving = useSignal(false)
  const form = useRef<HTMLFormElement>(null)
  useEffect(() => list.readVocabulary(), [list])

  const save = async () => {
    const found = changesOfDraft(of, before, draft.peek(), unit, figure)
    problems.value = found.ok ? {} : found.problems
    if (!found.ok) {
      // After the problems stand on the page.
      requestAnimationFrame(() => {
        form.current?.querySelector<HTMLElement>('[aria-invalid=true]')?.focus()
      })
      return
    }
    saving.value = true
    failure.value = null
    try {
      await onSave(found.changes)
      discardDraft(draftKey)
    } catch (error) {
      failure.value = noticeFromLogError(error)
    } finally {
      saving.value = false
    }
  }
  const changed = changedFields(before, draft.value).length > 0
  return (
    <form
      ref={form}
      class={`stack ${css.draftForm}`}
      noValidate
      onSubmit={(event) => {
        event.preventDefault()
        void save()
      }}
    >
      <Fields
        draft={draft.value}
        onChange={(part) => {
          draft.value = { ...draft.peek(), ...part }
          storeDraft(draftKey, draft.peek())
        }}
        problems={problems.value}
        byHand={figure !== 'measured'}
        words={list.vocabulary.value}
      />
      <div class="dock stack">
        {failure.value && <Notices notices={[failure.value]} />}
        {Object.keys(problems.value).length > 0 && (
          <p role="alert" class="problem">
            Not saved: see the marked fields.
          </p>
        )}
        <div class="row tight">
          <button
            type="button"
            class="grow"
            onClick={() => {
              discardDraft(draftKey)
              onDiscard()
            }}
          >
            {changed ? 'Discard' : 'Back'}
          </button>
          <button type="submit" class="primary grow" disabled={!changed || saving.value}>
            {saving.value ? 'Saving …' : saveWord}
          </button>
        </div>
      </div>
    </form>
  )
}
