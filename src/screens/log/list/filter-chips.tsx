import { dayOf, partsOfFilter } from '../../../session/log/filter-draft.ts'
import type { ListModel } from '../../../session/log/list-model.ts'
import { temperatureUnit } from '../../../ui/temperature.ts'
import { filterWords } from '../../../ui/words/log.ts'
import css from '../log.module.css'

/** What narrows the list, each to be taken away by a touch. */
export function FilterChips({ model }: { model: ListModel }) {
  const filter = model.filter.value
  const parts = partsOfFilter(filter)
  // Read here, so that a change of unit changes the words.
  const unit = temperatureUnit.value
  if (parts.length === 0) return null
  return (
    <ul class={css.chips} aria-label="The list is narrowed to">
      {parts.map(({ kind, without }) => {
        const words = filterWords(kind, filter, dayOf)
        return (
          <li key={`${kind} ${unit}`}>
            <button
              type="button"
              aria-label={`${words}, remove`}
              onClick={() => model.find(without)}
            >
              <span>{words}</span>
              <span aria-hidden="true">✕</span>
            </button>
          </li>
        )
      })}
      {parts.length > 1 && (
        <li>
          <button
            type="button"
            class="plain"
            onClick={() => model.find(filter.text ? { text: filter.text } : {})}
          >
            Clear all
          </button>
        </li>
      )}
    </ul>
  )
}
