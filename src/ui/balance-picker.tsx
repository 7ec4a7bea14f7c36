import type { BalanceState } from '../estimate/types.ts'
import { NumberField } from './number-field.tsx'
import { BALANCE_NAMES } from './words/balance.ts'

const KINDS = ['daylight', 'lamp', 'locked', 'automatic', 'unknown'] as const

/** How the camera's white balance was set: a reference counts for its own setting only. */
export function BalancePicker({
  state,
  onState,
}: {
  state: BalanceState
  onState: (state: BalanceState) => void
}) {
  // Raw pixels are as the sensor gave them: nothing to choose.
  if (state.kind === 'raw') return null
  return (
    <>
      <label class="field">
        <span>White balance of the photo</span>
        <select
          value={state.kind}
          onChange={(event) => {
            const kind = event.currentTarget.value as BalanceState['kind']
            onState({ kind, colourTemperatureK: kind === 'locked' ? 5500 : null })
          }}
        >
          {KINDS.map((kind) => (
            <option key={kind} value={kind}>
              {BALANCE_NAMES[kind]}
            </option>
          ))}
        </select>
      </label>
      {state.kind === 'locked' && (
        <NumberField
          label="Locked on, kelvin"
          value={state.colourTemperatureK}
          min={2000}
          max={12000}
          onValue={(value) => {
            if (value !== null) onState({ kind: 'locked', colourTemperatureK: value })
          }}
        />
      )}
    </>
  )
}
