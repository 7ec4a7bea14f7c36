import { useRef } from 'preact/hooks'
import type { Opening } from '../../session/reading/photo-slot.ts'
import { prepareForPhoto } from '../../sources/photo/photo-workers.ts'
import { loadPracticePhoto } from '../../sources/practice/practice-photo.ts'
import { FileButton, PHOTO_TYPES } from '../../ui/file-button.tsx'
import { OpeningPanel, RefusalNotice, useDroppedPhotos } from '../../ui/photo/opening-panel.tsx'
import { say } from '../../ui/spoken.tsx'
import type { Notice } from '../../ui/words/estimate.ts'
import { SHOOTING } from '../../ui/words/shooting.ts'
import { SWEEP_GUIDE } from '../../ui/words/sweep-guide.ts'
import { WAYS } from '../ways.ts'

export type OpenPhotoFile = (blob: Blob, name: string, truthK?: number) => Promise<void>

/** The ways to a photo: camera, picker, drop, paste, practice. */
export function PhotoSources({
  opening,
  refusal,
  onOpen,
  onSweep,
  onCancel,
}: {
  opening: Opening | null
  refusal: Notice | null
  onOpen: OpenPhotoFile
  onSweep: (files: readonly File[]) => void
  onCancel: () => void
}) {
  const open = (file: File) => void onOpen(file, file.name)

  const host = useRef<HTMLDivElement>(null)
  useDroppedPhotos(host, open)

  if (opening) return <OpeningPanel opening={opening} onCancel={onCancel} />
  return (
    <>
      {refusal && <RefusalNotice refusal={refusal} />}
      <div class="side-by-side" ref={host}>
        <FileButton
          primary
          accept="image/*"
          capture="environment"
          onAsk={prepareForPhoto}
          onFiles={([file]) => file && open(file)}
        >
          Take a photo
        </FileButton>
        <FileButton
          accept={PHOTO_TYPES}
          onAsk={prepareForPhoto}
          onFiles={([file]) => file && open(file)}
        >
          Open a photo
        </FileButton>
        <FileButton accept={PHOTO_TYPES} multiple onAsk={prepareForPhoto} onFiles={onSweep}>
          Open an exposure sweep (several photos)
        </FileButton>
        <button
          type="button"
          class="wide"
          onClick={() =>
            void loadPracticePhoto().then(
              ({ blob, truth }) => onOpen(blob, 'practice photo', truth.temperatureK),
              () => say('The practice photo is not on this device yet. Open the app once online.'),
            )
          }
        >
          Practice photo (simulated)
        </button>
      </div>
      <p class="small soft">A photo can also be dropped or pasted here. It stays on this device.</p>
      {WAYS.length > 0 && (
        <nav class="side-by-side" aria-label="Other ways">
          {WAYS.map(({ id, name, line }) => (
            <a key={id} class="button wide way" href={`/reading/${id}`}>
              <strong>{name}</strong>
              <span class="small soft">{line}</span>
            </a>
          ))}
        </nav>
      )}
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
      <details>
        <summary>How to take an exposure sweep</summary>
        <ol class="inside sweep-guide">
          {SWEEP_GUIDE.map((line) => (
            <li key={line}>{line}</li>
          ))}
        </ol>
      </details>
    </>
  )
}
