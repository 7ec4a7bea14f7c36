import { useId } from 'preact/hooks'

/** One line of text, or a number typed with comma or point; suggestions come from earlier readings. */
export function TextField({
  label,
  value,
  onValue,
  number = false,
  longest = 200,
  placeholder,
  suggestions = [],
  problem = null,
  alert = false,
}: {
  label: string
  value: string
  onValue: (value: string) => void
  number?: boolean
  longest?: number
  placeholder?: string
  suggestions?: readonly string[]
  problem?: string | null
  /** The problem is spoken as soon as it stands there. */
  alert?: boolean
}) {
  const id = useId()
  return (
    <label class="field grow">
      <span>{label}</span>
      <input
        type="text"
        inputMode={number ? 'decimal' : 'text'}
        autocomplete="off"
        maxLength={longest}
        placeholder={placeholder}
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
        <span id={`${id}-problem`} class="problem" role={alert ? 'alert' : undefined}>
          {problem}
        </span>
      )}
    </label>
  )
}
