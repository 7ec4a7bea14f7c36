/** One of a few, all in sight. */
export function Segments<T extends string>({
  of,
  chosen,
  onChoose,
}: {
  of: readonly (readonly [value: T, name: string])[]
  chosen: T
  onChoose: (value: T) => void
}) {
  return (
    <div class="segments">
      {of.map(([value, name]) => (
        <button
          key={value}
          type="button"
          aria-pressed={value === chosen}
          onClick={() => onChoose(value)}
        >
          {name}
        </button>
      ))}
    </div>
  )
}
