import type { Signal } from '@preact/signals'
import type { TargetBand } from '../../estimate/live/live-line.ts'
import { type BandSignals, startBandSignals } from '../../session/live/band-signals.ts'
import { LineDrawing } from '../../ui/line-drawing.tsx'
import { say } from '../../ui/spoken.tsx'
import { SOUND_WITHOUT_BAND } from '../../ui/words/live.ts'
import type { Aloud } from './aloud-panel.tsx'
import css from './live.module.css'

const MOUTH = 'M4 5h16v11H11l-4 4v-4H4zM8 9h8M8 12h5'
const SOUND = 'M4 9v6h4l5 4V5L8 9zM16 9a4 4 0 0 1 0 6M18.5 6.5a8 8 0 0 1 0 11'

/** Firefox and WebKit do not shake a phone. */
const SIGNALS = 'vibrate' in navigator ? 'Sound and vibration' : 'Sound'

/** For eyes on the work: the figure read aloud now, the target band told by sound, and vibration where there is one. */
export function TellButtons({
  aloud,
  band,
  signals,
}: {
  aloud: Aloud | null
  band: Signal<TargetBand | null>
  signals: Signal<BandSignals | null>
}) {
  const sounding = signals.value !== null
  return (
    <div class={css.tell}>
      {aloud && (
        <button type="button" aria-label="Read it aloud now" onClick={aloud.speak}>
          <LineDrawing path={MOUTH} />
        </button>
      )}
      <button
        type="button"
        aria-label={SIGNALS}
        aria-pressed={sounding}
        onClick={() => {
          signals.value?.close()
          signals.value = sounding ? null : startBandSignals()
          if (!sounding && !band.peek()) say(SOUND_WITHOUT_BAND)
        }}
      >
        <LineDrawing path={SOUND} />
      </button>
    </div>
  )
}
