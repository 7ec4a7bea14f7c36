import { type ReadonlySignal, type Signal, useSignalEffect } from '@preact/signals'
import { useRef } from 'preact/hooks'
import { MaterialPicker, UNSTATED } from './material-picker.tsx'
import { useSurfaceOfObject } from './object-surface.ts'
import { TextField } from './text-field.tsx'

/** What waits until the surface is said. */
export type Waiting = { readonly run: () => void } | null

const GO_ON = 'go on'

/** The surface changes the figure: it is asked once per object, before what it changes goes on. */
export function SurfaceQuestion({
  object,
  materialId,
  onSurface,
  label,
  waiting,
}: {
  object: Signal<string>
  materialId: ReadonlySignal<string>
  /** @param cover that of the object, where it was read before */
  onSurface: (materialId: string, cover?: string) => void
  /** Names the dialog. */
  label: string
  waiting: Signal<Waiting>
}) {
  const dialog = useRef<HTMLDialogElement>(null)
  const unsaid = () => materialId.peek() === UNSTATED
  useSurfaceOfObject(object, unsaid, (found) => onSurface(found.materialId, found.cover))
  useSignalEffect(() => {
    if (waiting.value && !dialog.current?.open) dialog.current?.showModal()
  })
  return (
    <dialog
      ref={dialog}
      aria-label={label}
      onClose={() => {
        const { current } = dialog
        const next = current?.returnValue === GO_ON ? waiting.peek() : null
        if (current) current.returnValue = ''
        waiting.value = null
        // Only now: what goes on may take this dialog off the page.
        next?.run()
      }}
    >
      {waiting.value && (
        <form method="dialog" class="stack">
          {/* The keyboard of a phone stays away until a field is tapped. */}
          <h2 tabIndex={-1} autofocus>
            What glows? <small class="soft">asked once per object</small>
          </h2>
          <TextField
            label="Object"
            value={object.value}
            onValue={(typed) => {
              object.value = typed
            }}
          />
          <MaterialPicker
            unstated
            materialId={materialId.value}
            onMaterial={(said) => onSurface(said)}
          />
          <div class="row">
            <button type="submit" class="grow">
              Not now
            </button>
            <button
              type="submit"
              value={GO_ON}
              class="primary grow"
              disabled={materialId.value === UNSTATED}
            >
              Go on
            </button>
          </div>
        </form>
      )}
    </dialog>
  )
}
