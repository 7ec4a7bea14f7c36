import type { BandPlace } from '../../estimate/live/live-line.ts'
import { playTone } from '../../sources/tone.ts'

const PITCH_HZ: Record<BandPlace, number> = { below: 330, inside: 660, above: 1320 }
const BUZZ_MS: Record<BandPlace, number[]> = { below: [60], inside: [200], above: [60, 60, 60] }
const TONE_SECONDS = 0.18
/** Between tones while the place stays the same, ms. */
const AGAIN_MS = 1500

export interface BandSignals {
  /** Tells the place: at once when it changes, now and then when it stays. */
  tell(place: BandPlace): void
  close(): void
}

/**
 * Tone and vibration for a person whose hands and eyes are on the work; start it in a tap, as
 * browsers ask.
 */
export function startBandSignals(): BandSignals {
  const audio = new AudioContext()
  let last: BandPlace | null = null
  let lastMs = 0
  return {
    tell(place) {
      const now = performance.now()
      const changed = place !== last
      if (!changed && now - lastMs < AGAIN_MS) return
      if (changed) navigator.vibrate?.(BUZZ_MS[place])
      last = place
      lastMs = now
      playTone(audio, PITCH_HZ[place], TONE_SECONDS)
    },
    close: () => void audio.close(),
  }
}
