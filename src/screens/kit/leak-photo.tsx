import { effect, signal } from '@preact/signals'
import { useEffect, useMemo } from 'preact/hooks'
import { leakAfterTests } from '../../estimate/infrared-leak.ts'
import type { LeakTest } from '../../estimate/leak-test.ts'
import type { LeakTestId } from '../../estimate/leak-test-ids.ts'
import type { BalanceState } from '../../estimate/types.ts'
import { judgeLeak, type LeakJudgement } from '../../session/kit/leak-photo.ts'
import { createPhotoSlot } from '../../session/reading/photo-slot.ts'
import { prepareForPhoto } from '../../sources/photo/photo-workers.ts'
import { FileButton, PHOTO_TYPES } from '../../ui/file-button.tsx'
import { Notices } from '../../ui/notices.tsx'
import { OpeningPanel } from '../../ui/photo/opening-panel.tsx'
import { RegionStage } from '../../ui/region-stage.tsx'
import { LEAK_PHOTO_WORDS, LEAK_REFUSALS, leakWords } from '../../ui/words/infrared.ts'
import { photoRefusalNotice } from '../../ui/words/photo-refusals.ts'

/** The picture of an infrared test: the frame on what is tested, and what its light says. */
export function LeakPhoto({
  test,
  lock,
  onResult,
}: {
  test: LeakTestId
  lock: BalanceState
  onResult: (test: LeakTest) => void
}) {
  const slot = useMemo(createPhotoSlot, [])
  const judged = useMemo(() => signal<LeakJudgement | null>(null), [])
  useEffect(() => {
    const stop = effect(() => {
      const of = slot.photo.value
      const where = slot.region.value
      judged.value = null
      if (!of || !where) return
      of.measure(where).then(
        (found) => {
          if (slot.photo.peek() !== of) return
          judged.value = judgeLeak(test, of, found, lock)
          slot.showMarks()
        },
        // A later frame has taken its place, or the photo was put away.
        () => undefined,
      )
    })
    return () => {
      stop()
      slot.close()
    }
  }, [slot, judged, test, lock])
  const opening = slot.opening.value
  const photo = slot.photo.value
  const region = slot.region.value
  if (opening) return <OpeningPanel opening={opening} onCancel={() => slot.cancel()} />
  if (!photo || !region) {
    const refusal = photoRefusalNotice(slot.refusal.value)
    return (
      <>
        {refusal && <Notices notices={[refusal]} />}
        <FileButton
          accept={PHOTO_TYPES}
          onAsk={prepareForPhoto}
          onFiles={([file]) => {
            if (file) void slot.open(file, file.name)
          }}
        >
          {LEAK_PHOTO_WORDS[test].ask}
        </FileButton>
      </>
    )
  }
  const found = judged.value
  const result = found?.kind === 'result' ? found.test : null
  return (
    <>
      <RegionStage
        pictureUrl={photo.pictureUrl}
        marksUrl={slot.marksUrl.value}
        photo={photo}
        region={region}
        label={LEAK_PHOTO_WORDS[test].frame}
        onRegion={slot.setRegion}
      />
      <p aria-live="polite">
        {found === null && 'Looking …'}
        {found && found.kind !== 'result' && LEAK_REFUSALS[found.kind]}
        {result && `The picture says: ${leakWords(leakAfterTests([result]))}.`}
      </p>
      <div class="row">
        <button type="button" class="grow" onClick={() => slot.close()}>
          Another photo
        </button>
        <button
          type="button"
          class="primary grow"
          disabled={!result}
          onClick={() => {
            if (!result) return
            onResult(result)
            slot.close()
          }}
        >
          Keep this result
        </button>
      </div>
    </>
  )
}
