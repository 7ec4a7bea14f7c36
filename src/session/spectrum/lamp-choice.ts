import { computed, type ReadonlySignal, type Signal, signal } from '@preact/signals'
import { surfaceFromMaterial } from '../../estimate/spectrum/surface.ts'
import type { SpectrumLamp } from '../../estimate/spectrum/types.ts'
import type { LightQuantity } from '../../light/spectrum-import/quantity.ts'
import { createLampModel, type LampModel } from '../kit/lamp-model.ts'
import type { StoredLamp } from '../kit/stored-items.ts'

/** The temperature of anything else that glows, as somebody measured it. */
export interface KnownSource {
  readonly temperatureK: number
  readonly standardUncertaintyK: number
}

/** What lit the instrument when its response was taken. */
export interface LampChoice {
  readonly emitter: Signal<SpectrumLamp['emitter']>
  /** The filament lamp, measured as in the kit. */
  readonly filament: Signal<LampModel>
  /** Of a black body or a surface. */
  readonly black: Signal<KnownSource>
  /** Material of a surface as reference. */
  readonly surfaceId: Signal<string>
  /** What a calibrated file counts; null: as its headings say. */
  readonly quantity: Signal<LightQuantity | null>
  /** Null as long as something is missing or refused. */
  readonly lamp: ReadonlySignal<SpectrumLamp | null>
  take(kept: StoredLamp | null): void
}

const FIRST_BLACK: KnownSource = { temperatureK: 1700, standardUncertaintyK: 5 }

/** @param foundQuantity what the headings of the glow's file name; null where they name none */
export function createLampChoice(foundQuantity: ReadonlySignal<LightQuantity | null>): LampChoice {
  const emitter = signal<SpectrumLamp['emitter']>('tungsten')
  const filament = signal(createLampModel(null))
  const black = signal(FIRST_BLACK)
  const surfaceId = signal('steel-oxidised')
  const quantity = signal<LightQuantity | null>(null)
  const lamp = computed<SpectrumLamp | null>(() => {
    const { temperatureK, standardUncertaintyK } = black.value
    if (emitter.value === 'calibration') {
      return { emitter: 'calibration', quantity: quantity.value ?? foundQuantity.value ?? 'power' }
    }
    if (emitter.value === 'surface') {
      const surface = surfaceFromMaterial(surfaceId.value)
      return surface ? { emitter: 'surface', surface, temperatureK, standardUncertaintyK } : null
    }
    if (emitter.value === 'black body') {
      return { emitter: 'black body', colourTemperatureK: temperatureK, standardUncertaintyK }
    }
    const found = filament.value.outcome.value
    if ('missing' in found || !found.ok) return null
    return {
      emitter: 'tungsten',
      colourTemperatureK: found.colourTemperatureK,
      standardUncertaintyK: found.standardUncertaintyK,
    }
  })
  return {
    emitter,
    filament,
    black,
    surfaceId,
    quantity,
    lamp,
    take(kept) {
      filament.value = createLampModel(kept)
    },
  }
}
