import { useSignal } from '@preact/signals'
import { useEffect, useRef } from 'preact/hooks'
import { CameraRefused, type LiveCamera } from '../../sources/live/live-camera.ts'
import { openCamera } from '../../sources/live/open-camera.ts'
import { openPracticeCamera } from '../../sources/live/practice-camera.ts'
import { Notices } from '../../ui/notices.tsx'
import { LIVE_RANGE, LIVE_REFUSALS } from '../../ui/words/live.ts'
import { useServices } from '../services.ts'
import { LiveBenchView } from './live-bench-view.tsx'
import { createLiveDesk } from './live-desk.ts'
import { createLiveModel } from './live-model.ts'
import type { LiveModel } from './live-model-type.ts'
import './live.css'

/** Point at the glow, see the temperature, press one large button, go on working. */
export function LiveScreen() {
  const { kit } = useServices()
  const model = useSignal<LiveModel | null>(null)
  const refusal = useSignal<keyof typeof LIVE_REFUSALS | null>(null)
  const opening = useSignal(false)
  const left = useRef(false)
  const desk = useRef(createLiveDesk()).current

  const close = () => {
    model.peek()?.dispose()
    model.value = null
  }

  const begin = async (open: () => LiveCamera | Promise<LiveCamera>) => {
    if (opening.value) return
    close()
    opening.value = true
    refusal.value = null
    try {
      const camera = await open()
      // The person may have left while the browser was asking.
      if (left.current) return camera.close()
      const opened = createLiveModel(camera, kit, desk)
      camera.onEnd((why) => {
        close()
        refusal.value = why
      })
      model.value = opened
      await opened.lock()
    } catch (error) {
      refusal.value = error instanceof CameraRefused ? error.reason : 'failed'
    } finally {
      opening.value = false
    }
  }

  useEffect(() => {
    // Hidden, the camera is let go (its light goes off); seen again, it comes back by itself.
    let wanted = false
    const onVisibility = () => {
      if (document.visibilityState === 'hidden') {
        if (model.peek()?.camera.kind !== 'camera') return
        wanted = true
        close()
      } else if (wanted) {
        wanted = false
        void begin(openCamera)
      }
    }
    document.addEventListener('visibilitychange', onVisibility)
    return () => {
      document.removeEventListener('visibilitychange', onVisibility)
      left.current = true
      close()
      desk.dispose()
    }
  }, [])

  const stop = () => {
    desk.series.value = null
    close()
  }

  const current = model.value
  if (current) return <LiveBenchView key={current.camera.id} model={current} onStop={stop} />
  return (
    <main class="screen live">
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
    </main>
  )
}
