import { type Signal, useSignal } from '@preact/signals'
import { useEffect, useMemo } from 'preact/hooks'
import { canSpeak, createSpeech } from '../../sources/live/speech.ts'
import { Segments } from '../../ui/segments.tsx'
import { say } from '../../ui/spoken.tsx'
import { NO_VOICE } from '../../ui/words/live.ts'

const INTERVALS = [
  ['0', 'Off'],
  ['10', '10 s'],
  ['30', '30 s'],
  ['60', '1 min'],
] as const

export interface Aloud {
  readonly seconds: Signal<(typeof INTERVALS)[number][0]>
  speak(): void
}

/** Reads a sentence aloud on demand, or every so often; null where the browser cannot. */
export function useAloud(sentence: () => string): Aloud | null {
  const speech = useMemo(createSpeech, [])
  const seconds = useSignal<(typeof INTERVALS)[number][0]>('0')
  const speak = () => {
    if (speech.say(sentence())) return
    seconds.value = '0'
    say(NO_VOICE)
  }
  useEffect(() => {
    const every = Number(seconds.value)
    if (every === 0) return
    const timer = setInterval(speak, 1000 * every)
    return () => clearInterval(timer)
  }, [seconds.value])
  useEffect(() => () => speech.stop(), [])
  return canSpeak() ? { seconds, speak } : null
}

/** How often the figure and the place in the target band are read aloud. */
export function AloudPanel({ aloud: { seconds } }: { aloud: Aloud }) {
  return (
    <details>
      <summary>Read aloud{seconds.value !== '0' && `: every ${seconds.value} s`}</summary>
      <div class="inside">
        <Segments
          of={INTERVALS}
          chosen={seconds.value}
          onChoose={(value) => {
            seconds.value = value
          }}
        />
      </div>
    </details>
  )
}
