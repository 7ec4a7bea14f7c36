import { useSignal } from '@preact/signals'
import { useEffect, useMemo } from 'preact/hooks'
import { canSpeak, createSpeech } from '../../sources/live/speech.ts'
import { Segments } from '../../ui/segments.tsx'

const INTERVALS = [
  ['0', 'Off'],
  ['10', '10 s'],
  ['30', '30 s'],
  ['60', '1 min'],
] as const

/** The figure and the place in the target band read aloud: on demand, or every so often. */
export function AloudPanel({ sentence }: { sentence: () => string }) {
  const speech = useMemo(createSpeech, [])
  const seconds = useSignal<(typeof INTERVALS)[number][0]>('0')
  const mute = useSignal(false)
  const speak = () => {
    mute.value = !speech.say(sentence())
  }
  useEffect(() => {
    const every = Number(seconds.value)
    if (every === 0) return
    const timer = setInterval(speak, 1000 * every)
    return () => clearInterval(timer)
  }, [seconds.value])
  useEffect(() => () => speech.stop(), [])
  if (!canSpeak()) return null
  return (
    <details>
      <summary>Read aloud</summary>
      <div class="inside">
        <button type="button" class="wide" onClick={speak}>
          Say it now
        </button>
        <Segments
          of={INTERVALS}
          chosen={seconds.value}
          onChoose={(value) => {
            seconds.value = value
          }}
        />
        {mute.value && (
          <p class="small">This device has no voice of its own; none from a server is used.</p>
        )}
      </div>
    </details>
  )
}
