import { useSignal } from '@preact/signals'
import { useEffect, useRef } from 'preact/hooks'
import type { ChartModel } from '../../session/chart/chart-model.ts'
import type { MatchModel } from '../../session/chart/match-model.ts'
import { readingDraft } from '../../session/draft.ts'
import type { LiveBeside } from '../../session/live/live-beside.ts'
import type { HeldCamera } from '../../session/live/use-camera.ts'
import { openCamera } from '../../sources/live/open-camera.ts'
import { openPracticeCamera } from '../../sources/live/practice-camera.ts'
import { FileButton } from '../../ui/file-button.tsx'
import { screenLook } from '../../ui/look.ts'
import { UNSTATED } from '../../ui/material-picker.tsx'
import { Notices } from '../../ui/notices.tsx'
import { address } from '../../ui/router.ts'
import { say } from '../../ui/spoken.tsx'
import { SurfaceQuestion, type Waiting } from '../../ui/surface-question.tsx'
import { LIVE_REFUSALS } from '../../ui/words/live.ts'
import { EYE_CAUTIONS, TRUE_COLOURS } from '../../ui/words/match.ts'

/** What to hold against the chart; each begins a match. */
export function MatchStart({
  model,
  match,
  camera,
}: {
  model: ChartModel
  match: MatchModel
  camera: HeldCamera<LiveBeside>
}) {
  const waiting = useSignal<Waiting>(null)
  const section = useRef<HTMLElement>(null)
  // From a reading by `/chart/by-eye`.
  useEffect(() => {
    if (address.peek().rest === 'by-eye') section.current?.scrollIntoView()
  }, [])
  /** The colours to compare with are those of a surface. */
  const ofSurface = (run: () => void) => {
    if (model.materialId.peek() === UNSTATED) waiting.value = { run }
    else run()
  }
  const photo = (blob: Blob, simulated = false) =>
    match.begin({ kind: 'photo', url: URL.createObjectURL(blob), simulated })
  const refusal = camera.refusal.value
  if (screenLook.value === 'dark-shop')
    return (
      <section class="card stack no-print" ref={section}>
        <h2>Match by eye</h2>
        <p>{TRUE_COLOURS}</p>
        <button
          type="button"
          onClick={() => {
            screenLook.value = 'dark'
          }}
        >
          Go to the dark look
        </button>
      </section>
    )
  return (
    <section class="card stack no-print" ref={section}>
      <h2>Match by eye</h2>
      <ul class="small soft">
        {EYE_CAUTIONS.map((line) => (
          <li key={line}>{line}</li>
        ))}
      </ul>
      <div role="alert">{refusal && <Notices notices={[LIVE_REFUSALS[refusal]]} />}</div>
      <button
        type="button"
        class="primary"
        onClick={() => ofSurface(() => match.begin({ kind: 'piece' }))}
      >
        Against the piece itself
      </button>
      <div class="two-up">
        <FileButton accept="image/*" onFiles={([file]) => file && ofSurface(() => photo(file))}>
          A photo
        </FileButton>
        <button
          type="button"
          onClick={() =>
            void readingDraft
              .photo()
              .then((work) =>
                work
                  ? ofSurface(() => photo(work.blob, work.truthK !== null))
                  : say('No photo is being read.'),
              )
          }
        >
          Photo being read
        </button>
        <button
          type="button"
          disabled={camera.opening.value}
          onClick={() => ofSurface(() => void camera.begin(openCamera))}
        >
          {camera.opening.value ? 'Waiting …' : 'Live picture'}
        </button>
        <button
          type="button"
          disabled={camera.opening.value}
          onClick={() => ofSurface(() => void camera.begin(openPracticeCamera))}
        >
          Practice (simulated)
        </button>
      </div>
      <SurfaceQuestion
        label="Before the match"
        object={match.object}
        materialId={model.materialId}
        onSurface={(materialId) => {
          model.materialId.value = materialId
        }}
        waiting={waiting}
      />
    </section>
  )
}
