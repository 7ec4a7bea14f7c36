import { NumberField } from './number-field.tsx'

/** A value with its standard uncertainty, both as typed; null while one is missing. */
export interface Typed {
  readonly value: number | null
  readonly plusMinus: number | null
}

/** A measure with its ± side by side. */
export function MeasureField({
  label,
  typed,
  min,
  max,
  onTyped,
}: {
  label: string
  typed: Typed
  min: number
  max: number
  onTyped: (typed: Typed) => void
}) {
  return (
    <div class="measure">
      <NumberField
        label={label}
        value={typed.value}
        min={min}
        max={max}
        onValue={(value) => onTyped({ ...typed, value })}
      />
      <NumberField
        label="±"
        value={typed.plusMinus}
        min={0}
        max={max}
        onValue={(plusMinus) => onTyped({ ...typed, plusMinus })}
      />
    </div>
  )
}
