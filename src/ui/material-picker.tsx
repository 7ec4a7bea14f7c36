import { MATERIALS } from '../physics/materials.ts'

/** The surface: one native picker, for gloves. */
export function MaterialPicker({
  materialId,
  onMaterial,
}: {
  materialId: string
  onMaterial: (id: string) => void
}) {
  return (
    <label class="field">
      <span>Surface</span>
      <select value={materialId} onChange={(event) => onMaterial(event.currentTarget.value)}>
        {MATERIALS.map(({ id, name }) => (
          <option key={id} value={id}>
            {name}
          </option>
        ))}
      </select>
    </label>
  )
}
