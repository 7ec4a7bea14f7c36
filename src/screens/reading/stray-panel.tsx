import type { ReadingModel } from '../../session/reading/reading-model-type.ts'
import { FileButton, PHOTO_TYPES } from '../../ui/file-button.tsx'
import { Notices } from '../../ui/notices.tsx'
import { photoRefusalNotice } from '../../ui/words/photo-refusals.ts'
import { strayNotices } from '../../ui/words/stray.ts'

/** Light of other sources, taken off by a photo of the same view with the glow off or covered. */
export function StrayPanel({ model }: { model: ReadingModel }) {
  const { slot, result } = model.stray
  const refusal = photoRefusalNotice(slot.refusal.value)
  return (
    <details open={slot.photo.value !== null}>
      <summary>Other light on the piece</summary>
      <div class="inside">
        <p class="small soft">
          Best is a dark shop. Else photograph the same view with the glow off or covered: same
          place, same settings.
        </p>
        {slot.photo.value ? (
          <button type="button" onClick={() => slot.close()}>
            Put the lights-only photo away
          </button>
        ) : (
          <FileButton
            accept={PHOTO_TYPES}
            onFiles={([file]) => file && void slot.open(file, file.name)}
          >
            Open a lights-only photo
          </FileButton>
        )}
        {refusal && <Notices notices={[refusal]} />}
        {result.value && <Notices notices={strayNotices(result.value)} />}
      </div>
    </details>
  )
}
