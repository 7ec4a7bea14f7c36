import type { Signal } from '@preact/signals'

/** Opens and closes what a camera's entry offers beside its usual pieces. */
export function Opener({
  open,
  toOpen,
  toClose,
}: {
  open: Signal<boolean>
  toOpen: string
  toClose: string
}) {
  return (
    <button
      type="button"
      class="plain wide"
      aria-expanded={open.value}
      onClick={() => {
        open.value = !open.value
      }}
    >
      {open.value ? toClose : toOpen}
    </button>
  )
}
