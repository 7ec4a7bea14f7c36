import { useEffect } from 'preact/hooks'
import { loadPracticePhoto } from '../../sources/practice/practice-photo.ts'
import { FileButton, PHOTO_TYPES } from '../../ui/file-button.tsx'
import { WeightSign } from '../../ui/notices.tsx'
import type { Notice } from '../../ui/words/estimate.ts'
import { SHOOTING } from '../../ui/words/shooting.ts'
import type { Opening } from './photo-slot.ts'

export type OpenPhotoFile = (blob: Blob, name: string, truthK?: number) => Promise<void>

const firstPicture = (files: FileList | null | undefined): File | undefined =>
  files ? [...files][0] : undefined

/** The ways to a photo: camera, picker, drop, paste, practice. */
export function PhotoSources({
  opening,
  refusal,
  onOpen,
  onCancel,
}: {
  opening: Opening | null
  refusal: Notice | null
  onOpen: OpenPhotoFile
  onCancel: () => void
}) {
  const open = (file: File) => void onOpen(file, file.name)

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

  if (opening) {
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
  return (
    <>
      {refusal && (
        <div class="notice stop" role="alert">
          <WeightSign weight="stop" />
          <strong>{refusal.title}</strong>
          <span class="todo">{refusal.todo}</span>
        </div>
      )}
      <div class="stack">
        <FileButton
          primary
          accept="image/*"
          capture="environment"
          onFiles={([file]) => file && open(file)}
        >
          Take a photo
        </FileButton>
        <FileButton accept={PHOTO_TYPES} onFiles={([file]) => file && open(file)}>
          Open a photo
        </FileButton>
        <button
          type="button"
          class="wide"
          onClick={() =>
            void loadPracticePhoto().then(({ blob, truth }) =>
              onOpen(blob, 'practice photo', truth.temperatureK),
            )
          }
        >
          Practice photo (simulated)
        </button>
        <p class="small soft">
          A photo can also be dropped or pasted here. It stays on this device.
        </p>
      </div>
      <section class="stack">
        <h2>A photo that can be read</h2>
        <ol class="stack shooting">
          {SHOOTING.map(({ title, line }) => (
            <li key={title}>
              <strong>{title}</strong> <span class="soft">{line}</span>
            </li>
          ))}
        </ol>
      </section>
    </>
  )
}
