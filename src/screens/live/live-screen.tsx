import { useEffect, useRef } from 'preact/hooks'
import { createLiveDesk } from '../../session/live/live-desk.ts'
import { createLiveModel } from '../../session/live/live-model.ts'
import { useCamera } from '../../session/live/use-camera.ts'
import { runningRecording } from '../../session/recording/running.ts'
import { useServices } from '../../session/services.ts'
import { openCamera } from '../../sources/live/open-camera.ts'
import { openPracticeCamera } from '../../sources/live/practice-camera.ts'
import { Notices } from '../../ui/notices.tsx'
import { useLayer } from '../../ui/use-layer.ts'
import { LIVE_RANGE, LIVE_REFUSALS } from '../../ui/words/live.ts'
import { CONTEXT_CAUTIONS } from '../../ui/words/safety-statements.data.ts'
import css from './live.module.css'
import { LiveBenchView } from './live-bench-view.tsx'

/** The practice bench simulates a black body. */
const PRACTICE_SURFACE = 'cavity'

/** Point at the glow, see the temperature, press one large button, go on working. */
export function LiveScreen() {
  const { kit, safety } = useServices()
  const desk = useRef(createLiveDesk()).current
  const practiceDesk = useRef(createLiveDesk(PRACTICE_SURFACE)).current
  const { use, refusal, opening, begin, close } = useCamera((camera) =>
    createLiveModel(camera, kit, camera.kind === 'practice' ? practiceDesk : desk),
  )
  // After the camera, whose model works at the desk.
  useEffect(
    () => () => {
      desk.dispose()
      practiceDesk.dispose()
    },
    [desk, practiceDesk],
  )

  const stop = () => {
    desk.series.value = null
    practiceDesk.series.value = null
    void runningRecording.peek()?.stop()
    close()
  }

  const current = use.value
  useLayer(current !== null, stop)
  if (current) return <LiveBenchView key={current.camera.id} model={current} onStop={stop} />
  return (
    <main class={`screen ${css.live}`}>
      <header>
        <a class="button" href="/">
          Back
        </a>
        <h1>Live camera</h1>
      </header>
      <div role="alert">
        {refusal.value && <Notices notices={[LIVE_REFUSALS[refusal.value]]} />}
      </div>
      <p>{LIVE_RANGE} Duller glows need a photo.</p>
      <p class="small caution">{CONTEXT_CAUTIONS['live camera'].text}</p>
      <button
        type="button"
        class="primary wide"
        disabled={opening.value}
        onClick={() => void begin(openCamera)}
      >
        {opening.value ? 'Waiting for the camera …' : 'Start the camera'}
      </button>
      <button type="button" class="wide" onClick={() => void begin(openPracticeCamera)}>
        Practice bench (simulated glow)
      </button>
      <a class="button wide" href="/">
        Open a photo
      </a>
      {!safety.job.value && (
        <a class="button wide" href="/safety">
          Checks before the work
        </a>
      )}
    </main>
  )
}
