/** How far long work is, with the way to stop it. */
export function ProgressLine({
  label,
  done,
  total,
  onStop,
}: {
  label: string
  done: number
  total: number
  onStop?: () => void
}) {
  const share = total > 0 ? Math.floor((100 * done) / total) : 0
  return (
    <div class="row">
      <label class="grow field">
        <span>
          {label}: {share} %
        </span>
        <progress max={Math.max(total, 1)} value={done} />
      </label>
      {onStop && (
        <button type="button" onClick={onStop}>
          Stop
        </button>
      )}
    </div>
  )
}
