import type { ReadingModel } from './reading-model.ts'

/** Whether the tone curve that the kit holds for this camera is undone. */
export function KeptCurveChoice({ model }: { model: ReadingModel }) {
  const kept = model.keptCurve.value
  if (!kept) return null
  return (
    <label class="choice">
      <input
        type="checkbox"
        checked={model.useKeptCurve.value}
        onChange={(event) => {
          model.useKeptCurve.value = event.currentTarget.checked
        }}
      />
      <span>
        Undo the camera’s tone curve: {kept.name}
        <span class="small soft"> Same camera app and settings as for the sweep only.</span>
      </span>
    </label>
  )
}
