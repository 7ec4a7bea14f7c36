import { useRef } from 'preact/hooks'
import type { Opening } from '../../session/reading/photo-slot.ts'
import { loadPracticePhoto } from '../../sources/practice/practice-photo.ts'
import { FileButton, PHOTO_TYPES } from '../../ui/file-button.tsx'
import { GlossaryTerm } from '../../ui/glossary-term.tsx'
import { OpeningPanel, RefusalNotice, useDroppedPhotos } from '../../ui/photo/opening-panel.tsx'
import { say } from '../../ui/spoken.tsx'
import type { Notice } from '../../ui/words/estimate.ts'
import { SHOOTING } from '../../ui/words/shooting.ts'
import { SWEEP_GUIDE } from '../../ui/words/sweep-guide.ts'
import { WAYS } from '../../ui/words/ways.ts'
import { CameraCard } from './camera-card.tsx'
import style from './start.module.css'

export type OpenPhotoFile = (blob: Blob, name: string, truthK?: number) => Promise<void>

/** The first screen: what the camera's readings would come to, and the ways to a photo. */
export function PhotoSources({
  opening,
  refusal,
  onAsk,
  onOpen,
  onSeveral,
  onCancel,
}: {
  opening: Opening | null
  refusal: Notice | null
  /** A photo is about to be chosen. */
  onAsk: () => void
  onOpen: OpenPhotoFile
  /** More than one photo: a sweep, or separate readings. */
  onSeveral: (files: readonly File[]) => void
  onCancel: () => void
}) {
  const open = (files: readonly File[]) => {
    const [file] = files
    if (files.length > 1) onSeveral(files)
    else if (file) void onOpen(file, file.name)
  }
  const host = useRef<HTMLDivElement>(null)
  useDroppedPhotos(host, open)

  if (opening) return <OpeningPanel opening={opening} onCancel={onCancel} />
  return (
    <>
      {refusal && <RefusalNotice refusal={refusal} />}
      <div class="side-by-side" ref={host}>
        <FileButton primary accept="image/*" capture="environment" onAsk={onAsk} onFiles={open}>
          Take a photo
        </FileButton>
        <FileButton accept={PHOTO_TYPES} multiple onAsk={onAsk} onFiles={open}>
          Open a photo, or several
        </FileButton>
      </div>
      <CameraCard />
      <nav class={style.ways} aria-label="Other ways">
        {WAYS.map(({ id, name }) => (
          <a key={id} class="button" href={`/reading/${id}`}>
            {name}
          </a>
        ))}
        <button
          type="button"
          onClick={() =>
            void loadPracticePhoto().then(
              ({ blob, truth }) => onOpen(blob, 'practice photo', truth.temperatureK),
              () => say('The practice photo is not on this device yet. Open the app once online.'),
            )
          }
        >
          Practice photo (simulated)
        </button>
      </nav>
      <details>
        <summary>How to take it</summary>
        <div class="inside">
          <ol class={`stack ${style.shooting}`}>
            {SHOOTING.map(({ title, line }) => (
              <li key={title}>
                <strong>{title}</strong> <span class="soft">{line}</span>
              </li>
            ))}
          </ol>
          <p class="small soft">
            A photo can also be dropped or pasted here. It stays on this device.
          </p>
        </div>
      </details>
      <details>
        <summary>Exposure sweep</summary>
        <div class="inside">
          <ol class={`stack ${style.shooting}`}>
            {SWEEP_GUIDE.map((line) => (
              <li key={line}>{line}</li>
            ))}
          </ol>
          <p class="small soft">
            Words: <GlossaryTerm of="stop">stop</GlossaryTerm>,{' '}
            <GlossaryTerm of="clipped">clipped</GlossaryTerm>,{' '}
            <GlossaryTerm of="tone curve">tone curve</GlossaryTerm>.
          </p>
        </div>
      </details>
    </>
  )
}
