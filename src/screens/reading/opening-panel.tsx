import { useEffect } from 'preact/hooks'
import { WeightSign } from '../../ui/notices.tsx'
import type { Notice } from '../../ui/words/estimate.ts'
import type { Opening } from './photo-slot.ts'

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

const firstPicture = (files: FileList | null | undefined): File | undefined =>
  files ? [...files][0] : undefined

/** Photos that are dropped on the page or pasted into it. */
export function useDroppedPhotos(open: (file: File) => void): void {
  useEffect(() => {
    const onPaste = (event: ClipboardEvent) => {
      const file = firstPicture(event.clipboardData?.files)
      if (file) open(file)
    }
    const onDragOver = (event: DragEvent) => event.preventDefault()
    const onDrop = (event: DragEvent) => {
      event.preventDefault()
      const file = firstPicture(event.dataTransfer?.files)
      if (file) open(file)
    }
    addEventListener('paste', onPaste)
    addEventListener('dragover', onDragOver)
    addEventListener('drop', onDrop)
    return () => {
      removeEventListener('paste', onPaste)
      removeEventListener('dragover', onDragOver)
      removeEventListener('drop', onDrop)
    }
  })
}
