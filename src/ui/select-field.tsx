/** One of many, behind the device's own picker: large enough for gloves. */
export function SelectField<T extends string>({
  label,
  of,
  value,
  onValue,
}: {
  label: string
  of: readonly (readonly [value: T, name: string])[]
  value: T
  onValue: (value: T) => void
}) {
  return (
    <label class="field grow">
      <span>{label}</span>
      <select value={value} onChange={(event) => onValue(event.currentTarget.value as T)}>
        {of.map(([id, name]) => (
          <option key={id} value={id}>
            {name}
          </option>
        ))}
      </select>
    </label>
  )
}
