import { useSignal } from '@preact/signals'
import { useEffect, useRef } from 'preact/hooks'
import type { Method, Term } from '../../../log/schema/types.ts'
import {
  draftOfFilter,
  EMPTY_DRAFT,
  type FilterDraft,
  filterOfDraft,
  ORIGINS,
} from '../../../session/log/filter-draft.ts'
import type { ListModel } from '../../../session/log/list-model.ts'
import { SelectField } from '../../../ui/select-field.tsx'
import { temperatureUnit, UNIT_SYMBOLS } from '../../../ui/temperature.ts'
import { TextField } from '../../../ui/text-field.tsx'
import { ORIGIN_NAMES, readingsWord, surfaceName } from '../../../ui/words/log.ts'
import { METHOD_NAMES } from '../../../ui/words/methods.ts'
import css from '../log.module.css'

const METHODS = Object.keys(METHOD_NAMES) as Method[]
/** A native picker stays quick up to here; the search finds the rest. */
const TERMS_MOST = 300

/** Narrows the list; the button that closes it says how many readings are left. */
export function FilterDialog({ model, onClose }: { model: ListModel; onClose: () => void }) {
  const dialog = useRef<HTMLDialogElement>(null)
  const unit = temperatureUnit.value
  const draft = useSignal<FilterDraft>(draftOfFilter(model.filter.peek(), unit))
  const hits = useSignal<number | null>(null)
  const text = model.filter.value.text ?? ''
  const filter = filterOfDraft(draft.value, text, unit)
  const words = model.vocabulary.value

  useEffect(() => {
    dialog.current?.showModal()
    model.readVocabulary()
  }, [model])
  useEffect(() => {
    let wanted = true
    model.count(filterOfDraft(draft.value, text, unit)).then(
      (count) => {
        if (wanted) hits.value = count
      },
      () => undefined,
    )
    return () => {
      wanted = false
    }
  }, [model, draft.value, text, unit, hits, model.view.value])

  const change = (part: Partial<FilterDraft>) => {
    draft.value = { ...draft.value, ...part }
  }
  const toggle = (method: Method) => {
    const { methods } = draft.value
    change({
      methods: methods.includes(method)
        ? methods.filter((other) => other !== method)
        : [...methods, method],
    })
  }
  return (
    <dialog ref={dialog} class="filter" aria-label="Filter" onClose={onClose}>
      <form
        class="stack"
        method="dialog"
        onSubmit={() => {
          model.find(filter)
        }}
      >
        <h2>Filter</h2>
        <div class={css.pair}>
          <DayField
            label="From"
            value={draft.value.fromDay}
            onValue={(fromDay) => change({ fromDay })}
          />
          <DayField label="To" value={draft.value.toDay} onValue={(toDay) => change({ toDay })} />
        </div>
        <TermField
          label="Object"
          terms={words?.objects}
          value={draft.value.object}
          onValue={(object) => change({ object })}
        />
        <TermField
          label="Tag"
          terms={words?.tags}
          value={draft.value.tag}
          onValue={(tag) => change({ tag })}
        />
        <TermField
          label="Surface"
          terms={words?.materials}
          name={surfaceName}
          value={draft.value.material}
          onValue={(material) => change({ material })}
        />
        <div class={css.pair}>
          <TextField
            label={`Not below, ${UNIT_SYMBOLS[unit]}`}
            number
            value={draft.value.fromTemperature}
            onValue={(fromTemperature) => change({ fromTemperature })}
          />
          <TextField
            label={`Not above, ${UNIT_SYMBOLS[unit]}`}
            number
            value={draft.value.toTemperature}
            onValue={(toTemperature) => change({ toTemperature })}
          />
        </div>
        <SelectField
          label="Which"
          of={ORIGINS.map((origin) => [origin, ORIGIN_NAMES[origin]])}
          value={draft.value.origin}
          onValue={(origin) => change({ origin })}
        />
        <fieldset class={css.methods}>
          <legend class="soft small">Method</legend>
          <div class={css.chips}>
            {METHODS.map((method) => (
              <button
                key={method}
                type="button"
                aria-pressed={draft.value.methods.includes(method)}
                onClick={() => toggle(method)}
              >
                {METHOD_NAMES[method]}
              </button>
            ))}
          </div>
        </fieldset>
        <div class={`row ${css.dialogFoot}`}>
          <button
            type="button"
            onClick={() => {
              draft.value = EMPTY_DRAFT
            }}
          >
            Clear
          </button>
          <button type="submit" class="primary grow">
            {hits.value === null ? 'Show' : `Show ${readingsWord(hits.value)}`}
          </button>
        </div>
      </form>
    </dialog>
  )
}

function DayField(props: { label: string; value: string; onValue: (value: string) => void }) {
  return (
    <label class="field">
      <span>{props.label}</span>
      <input
        type="date"
        value={props.value}
        onInput={(event) => props.onValue(event.currentTarget.value)}
      />
    </label>
  )
}

/** One of the words used so far, or any. */
function TermField(props: {
  label: string
  terms: readonly Term[] | undefined
  name?: (text: string) => string
  value: string
  onValue: (value: string) => void
}) {
  const { label, terms = [], name = (text) => text, value, onValue } = props
  const shown = terms.slice(0, TERMS_MOST)
  const known = value === '' || shown.some(({ text }) => text === value)
  return (
    <SelectField
      label={label}
      of={[
        ['', 'Any'],
        ...(known ? [] : [[value, name(value)] as const]),
        ...shown.map(({ text, count }) => [text, `${name(text)} (${count})`] as const),
      ]}
      value={value}
      onValue={onValue}
    />
  )
}
