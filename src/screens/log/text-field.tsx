import { useId } from 'preact/hooks'

/** One line of text, or a number typed with comma or point; suggestions come from earlier readings. */
export function TextField({
  label,
  value,
  onValue,
  number = false,
  longest = 200,
  suggestions = [],
  problem = null,
}: {
  label: string
  value: string
  onValue: (value: string) => void
  number?: boolean
  longest?: number
  suggestions?: readonly string[]
  problem?: string | null
}) {
  const id = useId()
  return (
    <label class="field">
      <span>{label}</span>
      <input
        type="text"
        inputMode={number ? 'decimal' : 'text'}
        autocomplete="off"
        maxLength={longest}
        list={suggestions.length > 0 ? `${id}-list` : undefined}
        aria-invalid={problem !== null}
        aria-describedby={problem === null ? undefined : `${id}-problem`}
        value={value}
        onInput={(event) => onValue(event.currentTarget.value)}
      />
      {suggestions.length > 0 && (
        <datalist id={`${id}-list`}>
          {suggestions.map((text) => (
            <option key={text} value={text} />
          ))}
        </datalist>
      )}
      {problem !== null && (
        <span id={`${id}-problem`} class="problem">
          {problem}
        </span>
      )}
    </label>
  )
}
