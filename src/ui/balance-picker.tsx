import type { BalanceState } from '../estimate/types.ts'
import { NumberField } from './number-field.tsx'
import { SelectField } from './select-field.tsx'
import { BALANCE_NAMES } from './words/balance.ts'

const KINDS = ['daylight', 'lamp', 'locked', 'automatic', 'unknown'] as const

const isFixed = (kind: BalanceState['kind']) => kind !== 'automatic' && kind !== 'unknown'

/** How the camera's white balance was set: a reference counts for its own setting only. */
export function BalancePicker({
  state,
  held = false,
  onState,
}: {
  state: BalanceState
  /** Two photos of the card were seen to agree: what is taken while nobody says otherwise. */
  held?: boolean
  onState: (state: BalanceState) => void
}) {
  // Raw pixels are as the sensor gave them: nothing to choose.
  if (state.kind === 'raw') return null
  return (
    <>
      <SelectField
        label="White balance of the photo"
        of={KINDS.map((kind) => [kind, BALANCE_NAMES[kind]])}
        value={state.kind}
        onValue={(kind) => onState({ kind, colourTemperatureK: kind === 'locked' ? 5500 : null })}
      />
      {state.kind === 'locked' && (
        <NumberField
          label="Locked on, kelvin"
          value={state.colourTemperatureK}
          min={2000}
          max={12000}
          onValue={(value) => {
            if (value !== null) onState({ ...state, colourTemperatureK: value })
          }}
        />
      )}
      {isFixed(state.kind) && (
        <SelectField
          label="Does it hold?"
          of={[
            ['set', 'Not tried'],
            ['verified', 'Yes: two photos of the card agree'],
          ]}
          value={state.lock ?? (held ? 'verified' : 'set')}
          onValue={(lock) => onState({ ...state, lock })}
        />
      )}
    </>
  )
}
