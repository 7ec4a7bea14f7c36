import type { TypedMeasure } from '../session/typed-number.ts'
import { NumberField } from './number-field.tsx'

/** A measure with its ± side by side. */
export function MeasureField({
  label,
  typed,
  min,
  max,
  onTyped,
}: {
  label: string
  typed: TypedMeasure
  min: number
  max: number
  onTyped: (typed: TypedMeasure) => void
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
