import { materialById } from '../../physics/materials.ts'
import { WINDOWS } from '../../physics/windows.ts'
import type { ReadingModel } from '../../session/reading/reading-model-type.ts'
import { BalancePicker } from '../../ui/balance-picker.tsx'
import { MaterialPicker } from '../../ui/material-picker.tsx'
import { StoredCurveChoice } from '../../ui/photo/stored-curve-choice.tsx'
import { SelectField } from '../../ui/select-field.tsx'
import { SURFACE_WORDS } from '../../ui/words/surface.ts'

/** What is known of the piece and of the camera. */
export function ChoicesPanel({ model }: { model: ReadingModel }) {
  const choices = model.choices.value
  const material = materialById(choices.materialId)
  const input = model.input.value
  const onThisMaterial = input?.references.some(
    ({ cameraId, surface }) => cameraId === input.cameraId && surface.id === choices.materialId,
  )
  const change = (part: Partial<typeof choices>) => {
    model.choices.value = { ...choices, ...part }
  }
  return (
    <section class="stack">
      <MaterialPicker
        unstated
        materialId={choices.materialId}
        onMaterial={(materialId) => change({ materialId })}
      />
      {material && (
        <p class="small soft">
          {material.effects.map((effect) => SURFACE_WORDS[effect]).join(' ')}
        </p>
      )}
      {onThisMaterial && (
        <SelectField
          label="The known heat was seen on"
          of={[
            ['other', 'Another piece, or not known'],
            ['same', 'This very piece, same scale'],
          ]}
          value={choices.samePiece ? 'same' : 'other'}
          onValue={(on) => change({ samePiece: on === 'same' })}
        />
      )}
      <StoredCurveChoice model={model} />
      <BalancePicker
        state={choices.balanceState}
        held={model.stored.value?.heldSince !== undefined}
        onState={(balanceState) => change({ balanceState })}
      />
      <SelectField
        label="In front of the glow"
        of={[['none', 'Nothing'], ...WINDOWS.map(({ id, name }) => [id, name] as const)]}
        value={choices.cover}
        onValue={(cover) => change({ cover })}
      />
    </section>
  )
}
