import type { TypedMeasure } from '../session/typed-number.ts'
import css from './measure-field.module.css'
import { NumberField } from './number-field.tsx'

/** A measure with its ± side by side. */
export function MeasureField({
  label,
  typed,
  min,
  max,
  usual,
  onTyped,
}: {
  label: string
  typed: TypedMeasure
  min: number
  max: number
  /** What counts where a field is left empty: the value, and its ±. */
  usual?: { readonly value?: number | null; readonly plusMinus?: number | null }
  onTyped: (typed: TypedMeasure) => void
}) {
  return (
    <div class={css.measure}>
      <NumberField
        label={label}
        value={typed.value}
        min={min}
        max={max}
        placeholder={hint(usual?.value)}
        onValue={(value) => onTyped({ ...typed, value })}
      />
      <NumberField
        label="±"
        value={typed.plusMinus}
        min={0}
        max={max}
        placeholder={hint(usual?.plusMinus)}
        onValue={(plusMinus) => onTyped({ ...typed, plusMinus })}
      />
    </div>
  )
}

const hint = (value: number | null | undefined) =>
  value === null || value === undefined ? '' : String(value)
