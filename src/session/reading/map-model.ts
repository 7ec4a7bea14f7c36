import { effect, type ReadonlySignal, signal } from '@preact/signals'
import { type MadeMap, type MapBench, openMapBench } from '../../sources/map/map-client.ts'
import type { ReadingModel } from './reading-model-type.ts'

export type MapProgress =
  | { readonly kind: 'waiting' }
  /** Too little of the glow can be read. */
  | { readonly kind: 'none' }
  | { readonly kind: 'failed'; readonly error: unknown }
  | ({ readonly kind: 'made' } & MadeMap)

export interface MapModel {
  /** Follows the reading: photo, region, choices. The last map stays until the next is there. */
  readonly state: ReadonlySignal<MapProgress>
  dispose(): void
}

type ReadingOfMap = Pick<
  ReadingModel,
  'glow' | 'measurement' | 'input' | 'estimate' | 'curve' | 'map'
>

/** Maps the glow of the open photo as long as it lives. */
export function createMapModel(reading: ReadingOfMap, open = openMapBench): MapModel {
  const state = signal<MapProgress>({ kind: 'waiting' })
  let bench: MapBench | null = null
  let asked = 0
  let work: Promise<MadeMap | null> = Promise.resolve(null)
  const stop = effect(() => {
    const photo = reading.glow.photo.value
    const measured = reading.measurement.value
    const input = reading.input.value
    const estimate = reading.estimate.value
    const curve = reading.curve.value
    const mine = ++asked
    // What was mapped is no longer what is read.
    reading.map.value = null
    if (!photo || !measured || !input || estimate?.kind !== 'temperature') {
      state.value = { kind: 'waiting' }
      return
    }
    const { region, background } = measured
    bench ??= open()
    const maps = bench
    const make = async () => {
      const cells = await photo.cells({
        region,
        curve,
        background: background?.colour.mean ?? null,
      })
      return maps.make({ cells, input, estimate, curve, region })
    }
    const made = make()
    work = made.catch(() => null)
    reading.map.value = { estimate, made: work }
    made.then(
      (found) => {
        if (mine === asked) state.value = found ? { kind: 'made', ...found } : { kind: 'none' }
      },
      (error: unknown) => {
        // A later call has taken its place, or the photo was put away.
        if ((error as Error).name === 'AbortError' || mine !== asked) return
        state.value = { kind: 'failed', error }
      },
    )
  })
  return {
    state,
    dispose() {
      asked++
      stop()
      // A reading that is being saved waits for its map.
      void work.then(() => bench?.close())
    },
  }
}
