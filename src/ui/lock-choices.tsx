import { useSignal } from '@preact/signals'
import type { BalanceState } from '../estimate/types.ts'
import { NumberField } from './number-field.tsx'

const PLAIN = [
  ['daylight', 'Locked on daylight'],
  ['lamp', 'Locked on lamp light'],
] as const

/** How the white balance was set, as large answers; a value in kelvin is typed. */
export function LockChoices({
  onState,
  children,
}: {
  onState: (state: BalanceState) => void
  /** Further answers. */
  children?: preact.ComponentChildren
}) {
  const kelvin = useSignal<number | null>(null)
  const asked = useSignal(false)
  return (
    <div class="stack">
      {PLAIN.map(([kind, name]) => (
        <button
          key={kind}
          type="button"
          class={kind === 'daylight' ? 'primary wide' : 'wide'}
          onClick={() => onState({ kind, colourTemperatureK: null })}
        >
          {name}
        </button>
      ))}
      {asked.value ? (
        <div class="row">
          <NumberField
            label="Locked on, kelvin"
            value={kelvin.value}
            min={2000}
            max={12000}
            onValue={(value) => {
              kelvin.value = value
            }}
          />
          <button
            type="button"
            class="at-foot"
            disabled={kelvin.value === null}
            onClick={() => onState({ kind: 'locked', colourTemperatureK: kelvin.value })}
          >
            Use it
          </button>
        </div>
      ) : (
        <button
          type="button"
          class="wide"
          onClick={() => {
            asked.value = true
          }}
        >
          Locked on a value in kelvin
        </button>
      )}
      {children}
    </div>
  )
}
