import { MATERIALS } from '../physics/materials.ts'
import { SelectField } from './select-field.tsx'

/** The surface. */
export function MaterialPicker({
  materialId,
  onMaterial,
}: {
  materialId: string
  onMaterial: (id: string) => void
}) {
  return (
    <SelectField
      label="Surface"
      of={MATERIALS.map(({ id, name }) => [id, name])}
      value={materialId}
      onValue={onMaterial}
    />
  )
}
