import { useId, useRef, useState } from 'preact/hooks'

const parse = (text: string): number =>
  text.trim() === '' ? Number.NaN : Number(text.trim().replace(',', '.'))

/**
 * A number typed with a point or a comma. Kept as text while it is typed, so that nothing jumps; what
 * is no number or outside the limits is said below and counts as null.
 */
export function NumberField({
  label,
  value,
  min,
  max,
  onValue,
}: {
  label: string
  value: number | null
  min: number
  max: number
  onValue: (value: number | null) => void
}) {
  const [text, setText] = useState(value === null ? '' : String(value))
  const given = useRef(value)
  const complaint = useId()
  // Changed from outside, by a choice of type or unit.
  if (value !== given.current) {
    given.current = value
    setText(value === null ? '' : String(value))
  }
  const number = parse(text)
  const wrong = text.trim() !== '' && !(number >= min && number <= max)
  return (
    <label class="field grow">
      <span>{label}</span>
      <input
        type="text"
        inputMode="decimal"
        autocomplete="off"
        value={text}
        aria-invalid={wrong}
        aria-describedby={wrong ? complaint : undefined}
        onInput={(event) => {
          const typed = event.currentTarget.value
          const next = parse(typed)
          given.current = next >= min && next <= max ? next : null
          setText(typed)
          onValue(given.current)
        }}
      />
      {wrong && (
        <span id={complaint} class="complaint" role="alert">
          Between {min} and {max}, please.
        </span>
      )}
    </label>
  )
}
