import type { ComponentChildren } from 'preact'
import { TextField } from './text-field.tsx'
import { useTyped } from './use-typed.ts'

/** A name for a camera that does not say its own. */
export function CameraNameForm({
  label,
  layout,
  children,
  onName,
}: {
  label: string
  layout: 'row' | 'stack'
  /** Above the field: what is asked, names used before. */
  children?: ComponentChildren
  onName: (name: string) => void
}) {
  const typed = useTyped('camera name')
  const name = typed.value.trim()
  return (
    <form
      class={layout}
      onSubmit={(event) => {
        event.preventDefault()
        if (name !== '') onName(name)
      }}
    >
      {children}
      <TextField
        label={label}
        placeholder="Shop phone"
        value={typed.value}
        onValue={(value) => {
          typed.value = value
        }}
      />
      <button type="submit" disabled={name === ''}>
        Use this name
      </button>
    </form>
  )
}
