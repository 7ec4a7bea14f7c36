import { useRef } from 'preact/hooks'
import type { ReadingModel } from '../../session/reading/reading-model-type.ts'
import { prepareForPhoto } from '../../sources/photo/photo-workers.ts'
import { FileButton, PHOTO_TYPES } from '../../ui/file-button.tsx'
import { OpeningPanel, RefusalNotice, useDroppedPhotos } from '../../ui/photo/opening-panel.tsx'
import { photoRefusalNotice } from '../../ui/words/photo-refusals.ts'
import css from './kit.module.css'

/** The ways to the photo of something known; several photos are an exposure sweep of it. */
export function KitPhotoSources({ reading }: { reading: ReadingModel }) {
  const { opening } = reading.glow
  const refusal = photoRefusalNotice(reading.glow.refusal.value)
  const open = (file: File) => void reading.open(file, file.name)
  const openAll = (files: readonly File[]) => {
    if (files.length > 1) void reading.openSweep(files)
    else if (files[0]) open(files[0])
  }
  const host = useRef<HTMLDivElement>(null)
  useDroppedPhotos(host, openAll)
  if (opening.value) {
    return <OpeningPanel opening={opening.value} onCancel={() => reading.glow.cancel()} />
  }
  return (
    <div class="stack" ref={host}>
      {refusal && <RefusalNotice refusal={refusal} />}
      <div class={`row ${css.sources}`}>
        <FileButton
          primary
          accept="image/*"
          capture="environment"
          onAsk={prepareForPhoto}
          onFiles={([file]) => file && open(file)}
        >
          Take the photo
        </FileButton>
        <FileButton accept={PHOTO_TYPES} multiple onAsk={prepareForPhoto} onFiles={openAll}>
          Open a photo
        </FileButton>
      </div>
    </div>
  )
}
