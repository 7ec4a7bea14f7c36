import { MATERIALS, materialById } from '../physics/materials.ts'
import { SelectField } from './select-field.tsx'
import { SURFACE_HAZARD_WORDS } from './words/safety-statements.data.ts'

/** Ids that are no material: nobody has said it, or it cannot be said. Read as grey, widely. */
export const UNSTATED = ''
export const NOT_KNOWN = 'not-known'

/** What is not known may be anything. */
export const surfaceHazards = (materialId: string) =>
  (materialById(materialId) ?? materialById('grey-body'))?.hazards ?? []

/** The surface, with what working at it can bring. */
export function MaterialPicker({
  materialId,
  unstated = false,
  onMaterial,
}: {
  materialId: string
  /** Offer to leave it open. */
  unstated?: boolean
  onMaterial: (id: string) => void
}) {
  const open = [
    ...(materialId === UNSTATED ? [[UNSTATED, 'Choose the surface'] as const] : []),
    [NOT_KNOWN, 'I do not know'] as const,
  ]
  return (
    <>
      <SelectField
        label="Surface"
        of={[
          ...(unstated ? open : []),
          ...MATERIALS.map(({ id, name }) => [id as string, name] as const),
        ]}
        value={materialId}
        onValue={onMaterial}
      />
      {surfaceHazards(materialId).map((hazard) => (
        <p key={hazard} class="small caution">
          {SURFACE_HAZARD_WORDS[hazard].text}
        </p>
      ))}
    </>
  )
}
