import { useEffect } from 'preact/hooks'
import { checkInDue } from '../session/safety/fire-watch.ts'
import { dismissGlow, glowWatch } from '../session/safety/glow-watch.ts'
import { useServices } from '../session/services.ts'
import { address } from './router.ts'
import { showTemperature } from './temperature.ts'
import { clockWords, JOB_NAMES, spanWords } from './words/safety-names.ts'
import css from './work-bar.module.css'

const BUZZ_MS = [400, 200, 400]
/** Called again this often until somebody taps, ms. */
const AGAIN_MS = 60_000

/** What is going on, on every screen: the open job, what glows or glowed, the fire watch. */
export function WorkBar() {
  const { safety } = useServices()
  const { place } = address.value
  const job = safety.job.value
  const watch = safety.watch.value
  const glow = job ? glowWatch.value : null
  const left = safety.secondsLeft.value
  const over = watch !== null && left === 0
  const due = watch !== null && left > 0 && checkInDue(watch, safety.now.value)
  useEffect(() => {
    if (!over && !due) return
    const call = () => {
      // Before the first tap a browser refuses both, with a warning.
      if (navigator.userActivation?.hasBeenActive !== false) {
        navigator.vibrate?.(BUZZ_MS)
        void import('../sources/tone.ts').then(({ playAlarm }) => playAlarm())
      }
      if (document.visibilityState === 'hidden') notify(over ? 'Fire watch over' : 'Look round now')
    }
    call()
    const timer = setInterval(call, AGAIN_MS)
    return () => clearInterval(timer)
  }, [over, due])
  if (!job && !watch) return null
  const since = glow ? (safety.now.value.getTime() - glow.since.getTime()) / 1000 : 0
  return (
    <div class={css.bar} role="status">
      {job && place !== 'safety' && (
        <a class={css.part} href="/safety">
          {JOB_NAMES[job.kind]}
        </a>
      )}
      {glow?.kind === 'glowing' && (
        <span class={css.part}>
          Glowing{glow.temperatureK === null ? '' : `, ${showTemperature(glow.temperatureK)}`}, for{' '}
          {spanWords(since)}
        </span>
      )}
      {glow?.kind === 'glow gone' && (
        <>
          <span class={css.part}>
            No glow for {spanWords(since)}: black heat. Still above 500 °C when it stopped glowing.
            Marked hot?
          </span>
          <button type="button" onClick={dismissGlow}>
            Marked
          </button>
        </>
      )}
      {watch && (
        <a class={css.part} href="/safety">
          Fire watch {over ? 'over' : clockWords(left)}
          {due && ': look round'}
        </a>
      )}
    </div>
  )
}

function notify(text: string): void {
  if (!('Notification' in globalThis) || Notification.permission !== 'granted') return
  navigator.serviceWorker?.ready
    .then((registration) => registration.showNotification(text, { tag: 'fire-watch' }))
    .catch(() => undefined)
}
