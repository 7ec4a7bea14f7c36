import type { RefObject } from 'preact'
import { useEffect } from 'preact/hooks'
import type { Opening } from '../../session/reading/photo-slot.ts'
import { WeightSign } from '../notices.tsx'
import type { Notice } from '../words/estimate.ts'

/** A photo on its way, with a way to stop it. */
export function OpeningPanel({ opening, onCancel }: { opening: Opening; onCancel: () => void }) {
  return (
    <section class="card stack" aria-busy="true">
      <p>Reading {opening.name} …</p>
      <progress
        aria-label={`Reading ${opening.name}`}
        {...(opening.progress === null ? {} : { value: opening.progress })}
      />
      <button type="button" onClick={onCancel}>
        Cancel
      </button>
    </section>
  )
}

/** Why the last file could not be opened. */
export function RefusalNotice({ refusal }: { refusal: Notice }) {
  return (
    <div class="notice stop" role="alert">
      <WeightSign weight="stop" />
      <strong>{refusal.title}</strong>
      <span class="todo">{refusal.todo}</span>
    </div>
  )
}

/**
 * Photos that are dropped on the page or pasted into it, while the given element is on the screen:
 * an open reading stays alive behind the other screens and must not take what was meant for them.
 */
export function useDroppedPhotos(
  host: RefObject<HTMLElement | null>,
  open: (files: readonly File[]) => void,
): void {
  useEffect(() => {
    const take = (files: FileList | null | undefined) => {
      const given = [...(files ?? [])]
      if (given.length > 0 && isOnScreen(host.current)) open(given)
    }
    const onPaste = (event: ClipboardEvent) => take(event.clipboardData?.files)
    const onDrop = (event: DragEvent) => take(event.dataTransfer?.files)
    addEventListener('paste', onPaste)
    addEventListener('drop', onDrop)
    return () => {
      removeEventListener('paste', onPaste)
      removeEventListener('drop', onDrop)
    }
  })
}

const isOnScreen = (element: HTMLElement | null) => (element?.getClientRects().length ?? 0) > 0
