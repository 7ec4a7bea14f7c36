import { materialById } from '../../physics/materials.ts'
import { WINDOWS } from '../../physics/windows.ts'
import { BalancePicker } from '../../ui/balance-picker.tsx'
import { MaterialPicker } from '../../ui/material-picker.tsx'
import { SURFACE_WORDS } from '../../ui/words/surface.ts'
import { KeptCurveChoice } from './kept-curve-choice.tsx'
import type { ReadingModel } from './reading-model.ts'

/** What is known of the piece and of the camera: each row one native picker, for gloves. */
export function ChoicesPanel({ model }: { model: ReadingModel }) {
  const choices = model.choices.value
  const material = materialById(choices.materialId)
  const change = (part: Partial<typeof choices>) => {
    model.choices.value = { ...choices, ...part }
  }
  return (
    <section class="stack">
      <MaterialPicker
        materialId={choices.materialId}
        onMaterial={(materialId) => change({ materialId })}
      />
      {material && (
        <p class="small soft">
          {material.effects.map((effect) => SURFACE_WORDS[effect]).join(' ')}
        </p>
      )}
      <KeptCurveChoice model={model} />
      <BalancePicker
        state={choices.balanceState}
        onState={(balanceState) => change({ balanceState })}
      />
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
