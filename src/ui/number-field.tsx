import { useRef, useState } from 'preact/hooks'
import { TextField } from './text-field.tsx'

const parse = (text: string): number =>
  text.trim() === '' ? Number.NaN : Number(text.trim().replace(',', '.'))

const textOf = (value: number | null) => (value === null ? '' : String(value))

/**
 * A number typed with a point or a comma. Kept as text while it is typed, so that nothing jumps; what
 * is no number or outside the limits is said below and counts as null.
 */
export function NumberField({
  label,
  value,
  min,
  max,
  placeholder = '',
  onValue,
}: {
  label: string
  value: number | null
  min: number
  max: number
  placeholder?: string
  onValue: (value: number | null) => void
}) {
  const [text, setText] = useState(textOf(value))
  const given = useRef(value)
  const shown = useRef(value)
  // Changed from outside, by a choice of type or unit; a null that was not taken changes nothing.
  if (value !== shown.current) {
    shown.current = value
    if (value !== given.current) setText(textOf(value))
    given.current = value
  }
  const number = parse(text)
  const wrong = text.trim() !== '' && !(number >= min && number <= max)
  return (
    <TextField
      label={label}
      number
      placeholder={placeholder}
      value={text}
      problem={wrong ? `Between ${min} and ${max}, please.` : null}
      alert
      onValue={(typed) => {
        const next = parse(typed)
        given.current = next >= min && next <= max ? next : null
        setText(typed)
        onValue(given.current)
      }}
    />
  )
}
