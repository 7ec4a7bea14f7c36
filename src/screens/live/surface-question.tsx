import { type Signal, useSignalEffect } from '@preact/signals'
import { useRef } from 'preact/hooks'
import type { LiveDesk } from '../../session/live/live-desk.ts'
import { MaterialPicker, UNSTATED } from '../../ui/material-picker.tsx'
import { useSurfaceOfObject } from '../../ui/object-surface.ts'
import { TextField } from '../../ui/text-field.tsx'

/** What waits until the surface is said. */
export type Waiting = { readonly run: () => void } | null

/** The surface changes the figure: it is asked once per object before anything is saved. */
export function SurfaceQuestion({ desk, waiting }: { desk: LiveDesk; waiting: Signal<Waiting> }) {
  const dialog = useRef<HTMLDialogElement>(null)
  const { choices, object } = desk
  const unsaid = () => choices.peek().materialId === UNSTATED
  useSurfaceOfObject(object, unsaid, (found) => {
    choices.value = { ...choices.peek(), ...found }
  })
  useSignalEffect(() => {
    if (waiting.value && !dialog.current?.open) dialog.current?.showModal()
  })
  return (
    <dialog
      ref={dialog}
      aria-label="Before it is saved"
      onClose={() => {
        waiting.value = null
      }}
    >
      {waiting.value && (
        <form
          method="dialog"
          class="stack"
          onSubmit={() => {
            if (!unsaid()) waiting.peek()?.run()
          }}
        >
          <TextField
            label="Object"
            value={object.value}
            onValue={(typed) => {
              object.value = typed
            }}
          />
          <MaterialPicker
            unstated
            materialId={choices.value.materialId}
            onMaterial={(materialId) => {
              choices.value = { ...choices.peek(), materialId }
            }}
          />
          <button type="submit" class="primary" disabled={choices.value.materialId === UNSTATED}>
            Go on
          </button>
        </form>
      )}
    </dialog>
  )
}
