import { useSignal } from '@preact/signals'
import { useEffect } from 'preact/hooks'
import { runningRecording } from '../../session/recording/running.ts'
import { showDuration } from '../../ui/words/duration.ts'
import styles from './recording-bar.module.css'

/** That a recording runs, on every screen but the one that shows it. */
export function RecordingBar({ here }: { here: boolean }) {
  const running = runningRecording.value
  const stopping = useSignal(false)
  useEffect(() => {
    stopping.value = false
  }, [running])
  if (!running || here) return null
  return (
    <div class={styles.bar} role="status">
      <span>
        <i class={styles.dot} />
        Recording {showDuration(running.seconds.value)}
      </span>
      <a class="button" href="/reading/live">
        Show
      </a>
      <button
        type="button"
        disabled={stopping.value}
        onClick={() => {
          stopping.value = true
          void running.stop()
        }}
      >
        End
      </button>
    </div>
  )
}
