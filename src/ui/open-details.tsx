import type { ComponentChildren } from 'preact'
import { useState } from 'preact/hooks'

/** A part that is worked out and drawn only while it is looked at. */
export function OpenDetails({
  summary,
  children,
}: {
  summary: ComponentChildren
  /** Called while it is open. */
  children: () => ComponentChildren
}) {
  const [open, setOpen] = useState(false)
  return (
    <details onToggle={({ currentTarget }) => setOpen(currentTarget.open)}>
      <summary>{summary}</summary>
      {open && children()}
    </details>
  )
}
