import type { BalanceState } from '../../estimate/types.ts'
import { MATERIALS, materialById } from '../../physics/materials.ts'
import { WINDOWS } from '../../physics/windows.ts'
import { SURFACE_WORDS } from '../../ui/words/surface.ts'
import type { ReadingModel } from './reading-model.ts'

const STATES: readonly { kind: BalanceState['kind']; name: string }[] = [
  { kind: 'daylight', name: 'Locked on daylight' },
  { kind: 'lamp', name: 'Locked on lamp light' },
  { kind: 'locked', name: 'Locked on a value in kelvin' },
  { kind: 'automatic', name: 'Automatic' },
  { kind: 'unknown', name: 'I do not know' },
]

/** What is known of the piece and of the camera: each row one native picker, for gloves. */
export function ChoicesPanel({ model }: { model: ReadingModel }) {
  const choices = model.choices.value
  const material = materialById(choices.materialId)
  const change = (part: Partial<typeof choices>) => {
    model.choices.value = { ...choices, ...part }
  }
  const state = choices.balanceState
  return (
    <section class="stack">
      <label class="field">
        <span>Surface</span>
        <select
          value={choices.materialId}
          onChange={(event) => change({ materialId: event.currentTarget.value })}
        >
          {MATERIALS.map(({ id, name }) => (
            <option key={id} value={id}>
              {name}
            </option>
          ))}
        </select>
      </label>
      {material && (
        <p class="small soft">
          {material.effects.map((effect) => SURFACE_WORDS[effect]).join(' ')}
        </p>
      )}
      <label class="field">
        <span>White balance of the photo</span>
        <select
          value={state.kind}
          onChange={(event) => {
            const kind = event.currentTarget.value as BalanceState['kind']
            change({
              balanceState: { kind, colourTemperatureK: kind === 'locked' ? 5500 : null },
            })
          }}
        >
          {STATES.map(({ kind, name }) => (
            <option key={kind} value={kind}>
              {name}
            </option>
          ))}
        </select>
      </label>
      {state.kind === 'locked' && (
        <label class="field">
          <span>Locked on, kelvin</span>
          <input
            type="number"
            inputMode="numeric"
            min="2000"
            max="12000"
            step="50"
            value={state.colourTemperatureK ?? ''}
            onInput={(event) => {
              const value = event.currentTarget.valueAsNumber
              if (value >= 2000 && value <= 12000) {
                change({ balanceState: { kind: 'locked', colourTemperatureK: value } })
              }
            }}
          />
        </label>
      )}
      <label class="field">
        <span>In front of the glow</span>
        <select
          value={choices.cover}
          onChange={(event) => change({ cover: event.currentTarget.value })}
        >
          <option value="none">Nothing</option>
          {WINDOWS.map(({ id, name }) => (
            <option key={id} value={id}>
              {name}
            </option>
          ))}
        </select>
      </label>
    </section>
  )
}
