import type { Vocabulary } from '../../../log/schema/types.ts'
import { MATERIALS } from '../../../physics/materials.ts'
import { WINDOWS } from '../../../physics/windows.ts'
import type { FieldDraft, FieldName, FieldProblem } from '../../../session/log/field-draft.ts'
import { SelectField } from '../../../ui/select-field.tsx'
import { temperatureUnit, UNIT_SYMBOLS } from '../../../ui/temperature.ts'
import { TextField } from '../../../ui/text-field.tsx'
import { coverName, surfaceName } from '../../../ui/words/log.ts'
import { FIELD_PROBLEMS } from '../../../ui/words/log-entry.ts'
import css from '../log.module.css'

const SUGGESTIONS_MOST = 100

/** The fields of a reading that a person may type, the most used first. */
export function Fields({
  draft,
  onChange,
  problems,
  byHand,
  words,
}: {
  draft: FieldDraft
  onChange: (part: Partial<FieldDraft>) => void
  problems: Readonly<Partial<Record<FieldName, FieldProblem>>>
  byHand: boolean
  words: Vocabulary | null
}) {
  const unit = UNIT_SYMBOLS[temperatureUnit.value]
  const problem = (name: FieldName) => {
    const code = problems[name]
    return code ? FIELD_PROBLEMS[code] : null
  }
  const text = (
    name: FieldName,
    label: string,
    more: { number?: boolean; longest?: number } = {},
  ) => (
    <TextField
      label={label}
      value={draft[name]}
      onValue={(value) => onChange({ [name]: value })}
      problem={problem(name)}
      {...more}
    />
  )
  return (
    <>
      {byHand && (
        <div class={css.pair}>
          {text('temperature', `Temperature, ${unit}`, { number: true })}
          {text('plusMinus', `±, ${unit}, 19 times in 20`, { number: true })}
        </div>
      )}
      <TextField
        label="Object"
        value={draft.object}
        onValue={(object) => onChange({ object })}
        suggestions={termsOf(words?.objects)}
      />
      <label class="field">
        <span>Notes</span>
        <textarea
          rows={3}
          maxLength={20000}
          value={draft.notes}
          onInput={(event) => onChange({ notes: event.currentTarget.value })}
        />
      </label>
      <TextField
        label="Tags, with commas between"
        value={draft.tags}
        longest={2500}
        onValue={(tags) => onChange({ tags })}
        problem={problem('tags')}
      />
      <TagsUsed draft={draft} words={words} onChange={onChange} />
      <Picker
        label="Surface"
        value={draft.material}
        ids={MATERIALS.map(({ id }) => id)}
        empty="Not stated"
        name={surfaceName}
        onValue={(material) => onChange({ material })}
      />
      <Picker
        label="In front of the glow"
        value={draft.cover}
        ids={['none', ...WINDOWS.map(({ id }) => id)]}
        empty="Not stated"
        name={coverName}
        onValue={(cover) => onChange({ cover })}
      />
      <div class={css.triple}>
        {text('volts', 'Volts', { number: true })}
        {text('amperes', 'Amperes', { number: true })}
        {text('watts', 'Watts', { number: true })}
      </div>
      <label class="field">
        <span>Taken</span>
        <input
          type="datetime-local"
          value={draft.takenAt}
          aria-invalid={problems.takenAt !== undefined}
          onInput={(event) => onChange({ takenAt: event.currentTarget.value })}
        />
        {problems.takenAt && <span class="problem">{FIELD_PROBLEMS[problems.takenAt]}</span>}
      </label>
      <div class={css.pair}>
        {text('place', 'Place')}
        {text('room', `Room, ${unit}`, { number: true })}
      </div>
      {text('series', 'Series', { longest: 120 })}
    </>
  )
}

const termsOf = (terms: Vocabulary['objects'] | undefined) =>
  (terms ?? []).slice(0, SUGGESTIONS_MOST).map(({ text }) => text)

/** Tags of earlier readings, one touch each. */
function TagsUsed(props: {
  draft: FieldDraft
  words: Vocabulary | null
  onChange: (part: Partial<FieldDraft>) => void
}) {
  const { draft, words, onChange } = props
  const typed = draft.tags.split(',').map((tag) => tag.trim().toLowerCase())
  const others = (words?.tags ?? []).filter(({ text }) => !typed.includes(text.toLowerCase()))
  if (others.length === 0) return null
  return (
    <ul class={css.chips} aria-label="Tags used before">
      {others.slice(0, 6).map(({ text }) => (
        <li key={text}>
          <button
            type="button"
            onClick={() => {
              const before = draft.tags.trim().replace(/,$/, '')
              onChange({ tags: before ? `${before}, ${text}` : text })
            }}
          >
            + {text}
          </button>
        </li>
      ))}
    </ul>
  )
}

/** A native picker; a value that this version does not know stays one of the choices. */
function Picker(props: {
  label: string
  value: string
  ids: readonly string[]
  empty: string
  name: (id: string) => string
  onValue: (id: string) => void
}) {
  const { label, value, ids, empty, name, onValue } = props
  const all = value === '' || ids.includes(value) ? ids : [value, ...ids]
  return (
    <SelectField
      label={label}
      of={[['', empty], ...all.map((id) => [id, name(id)] as const)]}
      value={value}
      onValue={onValue}
    />
  )
}
