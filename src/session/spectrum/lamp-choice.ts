import { computed, type ReadonlySignal, type Signal, signal } from '@preact/signals'
import type { SpectrumLamp } from '../../estimate/spectrum/types.ts'
import { createLampModel, type LampModel } from '../kit/lamp-model.ts'
import type { StoredLamp } from '../kit/stored-items.ts'

/** A source that is black by its build, at a temperature that somebody measured. */
export interface BlackSource {
  readonly temperatureK: number
  readonly standardUncertaintyK: number
}

/** What lit the instrument when its response was taken. */
export interface LampChoice {
  readonly emitter: Signal<SpectrumLamp['emitter']>
  /** The filament lamp, measured as in the kit. */
  readonly filament: Signal<LampModel>
  readonly black: Signal<BlackSource>
  /** Null as long as something is missing or refused. */
  readonly lamp: ReadonlySignal<SpectrumLamp | null>
  take(kept: StoredLamp | null): void
}

const FIRST_BLACK: BlackSource = { temperatureK: 1700, standardUncertaintyK: 5 }

export function createLampChoice(): LampChoice {
  const emitter = signal<SpectrumLamp['emitter']>('tungsten')
  const filament = signal(createLampModel(null))
  const black = signal(FIRST_BLACK)
  const lamp = computed<SpectrumLamp | null>(() => {
    if (emitter.value === 'black body') {
      const { temperatureK, standardUncertaintyK } = black.value
      return { emitter: 'black body', colourTemperatureK: temperatureK, standardUncertaintyK }
    }
    const found = filament.value.outcome.value
    if ('missing' in found || !found.ok) return null
    const { colourTemperatureK, standardUncertaintyK } = found
    return { emitter: 'tungsten', colourTemperatureK, standardUncertaintyK }
  })
  return {
    emitter,
    filament,
    black,
    lamp,
    take(kept) {
      filament.value = createLampModel(kept)
    },
  }
}
