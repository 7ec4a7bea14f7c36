import { type Signal, signal } from '@preact/signals'
import type { TargetBand } from '../../estimate/live/live-line.ts'
import type { CardLightId } from '../../light/card-light.ts'
import type { Choices } from '../reading/glow-input.ts'
import { storeText } from '../stored-text.ts'
import type { BandSignals } from './band-signals.ts'

/** Readings into the log every few seconds. */
export interface RunningSeries {
  readonly id: string
  readonly seconds: number
  readonly count: number
}

/**
 * What the person has said and set up: it outlives a camera that a call or another tab has taken.
 */
export interface LiveDesk {
  readonly choices: Signal<Omit<Choices, 'balanceState'>>
  readonly cardLight: Signal<CardLightId>
  readonly mainsHz: Signal<50 | 60>
  readonly object: Signal<string>
  readonly band: Signal<TargetBand | null>
  readonly bandSignals: Signal<BandSignals | null>
  readonly series: Signal<RunningSeries | null>
  dispose(): void
}

/** @param materialId of simulated light; empty: nobody has said what a camera looks at */
export function createLiveDesk(materialId = ''): LiveDesk {
  const bandSignals = signal<BandSignals | null>(null)
  const object = signal('')
  const forgetObject = storeText('live object', object)
  return {
    choices: signal({ materialId, cover: 'none' }),
    cardLight: signal<CardLightId>({ kind: 'daylight', illuminant: 'D65' }),
    mainsHz: signal<50 | 60>(50),
    object,
    band: signal<TargetBand | null>(null),
    bandSignals,
    series: signal<RunningSeries | null>(null),
    dispose() {
      bandSignals.peek()?.close()
      forgetObject()
    },
  }
}
