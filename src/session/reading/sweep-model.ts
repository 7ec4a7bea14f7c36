import { batch, computed, effect, type ReadonlySignal, type Signal, signal } from '@preact/signals'
import type { ToneCurveCheck } from '../../light/exposure-sweep/check-tone-curve.ts'
import { LEAST_FRAMES, type SweepResult } from '../../light/exposure-sweep/sweep-result.ts'
import type { Region } from '../../light/image.ts'
import { newUuid } from '../../log/schema/uuid.ts'
import type { Sweep } from '../../sources/sweep/open-sweep.ts'
import type { StoredCurve } from '../kit/stored-items.ts'
import type { Choices } from './glow-input.ts'
import type { GreyModel } from './grey-model.ts'
import { kindOdds } from './kind-odds.ts'

export interface SweepModel {
  /** Of its curve, also when the kit keeps it. */
  readonly id: string
  readonly sweep: Sweep
  /** The kit's curve of this camera, which the photos are held against; null where there is none. */
  readonly kept: StoredCurve | null
  /** Too few photos to find a curve, and enough to check the kept one. */
  readonly checkOnly: boolean
  /** Exposure of each photo in stops, relative to the first; null where nobody has said it. */
  readonly stops: Signal<readonly (number | null)[]>
  /** Null while it is being found, and where the photos only check a curve. */
  readonly result: ReadonlySignal<SweepResult | null>
  readonly check: ReadonlySignal<ToneCurveCheck | null>
  /** Its photos can no longer be read. */
  readonly failed: ReadonlySignal<boolean>
  /** 0..1 while photos are being read, null when the answer is there or exposures are missing. */
  readonly progress: ReadonlySignal<number | null>
  /** What the person has said, for the photos that are read again with others. */
  stopsByName(): StopsByName
  dispose(): void
}

/** Stops of photos relative to the first of their sweep, by the photo's name. */
export type StopsByName = ReadonlyMap<string, number>

/** Stops from the camera's own record, relative to the first photo that has one. */
function statedStops(sweep: Sweep): (number | null)[] {
  const first = sweep.photos.find(({ exposure }) => exposure !== null)?.exposure
  return sweep.photos.map(({ exposure }) =>
    exposure === null || !first ? null : Math.round(100 * Math.log2(exposure / first)) / 100,
  )
}

/** A balance that is not fixed may move between the photos of a sweep; a card in each shows it. */
export const cardToFollow = (
  grey: Pick<GreyModel, 'greySource' | 'cardPlaced' | 'cardRegion'>,
  choices: ReadonlySignal<Choices>,
): ReadonlySignal<Region | null> =>
  computed(() => {
    const { kind } = choices.value.balanceState
    const here = grey.greySource.value.kind === 'this photo' && grey.cardPlaced.value
    return here && (kind === 'automatic' || kind === 'unknown') ? grey.cardRegion.value : null
  })

/**
 * Follows the region and the exposures, and keeps the sweep's answer.
 *
 * @param kept the curve that the kit holds for this camera
 * @param said of photos that do not state their exposure
 * @param card where a grey card lies in all photos, while their balance is not fixed
 * @param says tells the person why the photos cannot be read; false where nothing is to be told
 */
export function createSweepModel(
  sweep: Sweep,
  region: ReadonlySignal<Region | null>,
  kept: StoredCurve | null,
  said: StopsByName | null = null,
  card: ReadonlySignal<Region | null> = signal(null),
  says: (error: unknown) => boolean = () => true,
): SweepModel {
  const checkOnly = kept !== null && sweep.photos.length < LEAST_FRAMES
  const stops = signal<readonly (number | null)[]>(
    statedStops(sweep).map((stop, i) => stop ?? said?.get(sweep.photos[i]!.name) ?? null),
  )
  const result = signal<SweepResult | null>(null)
  const check = signal<ToneCurveCheck | null>(null)
  const failed = signal(false)
  const progress = signal<number | null>(null)
  const stop = effect(() => {
    const where = region.value
    const onCard = card.value
    const known = stops.value.flatMap((value) => value ?? [])
    result.value = null
    check.value = null
    failed.value = false
    if (!where || known.length < stops.value.length) return
    const exposures = known.map((value) => 2 ** value)
    const onProgress = (share: number) => {
      progress.value = share
    }
    progress.value = 0
    const read = async () => {
      const held = kept && (await sweep.check(kept.curve, where, exposures, onProgress))
      const found = checkOnly
        ? null
        : await sweep.measure(where, exposures, {
            onProgress,
            card: onCard,
            channelOdds: kindOdds(kept, held, sweep.base.facts.takenAt),
          })
      batch(() => {
        check.value = held
        result.value = found
        progress.value = null
      })
    }
    read().catch((error: unknown) => {
      // A later region or exposure takes its place.
      if (!says(error)) return
      batch(() => {
        failed.value = true
        progress.value = null
      })
    })
  })
  return {
    id: newUuid(),
    sweep,
    kept,
    checkOnly,
    stops,
    result,
    check,
    failed,
    progress,
    stopsByName: () =>
      new Map(
        sweep.photos.flatMap(({ name, exposure }, i) => {
          const stop = stops.peek()[i]
          return exposure === null && typeof stop === 'number' ? [[name, stop] as const] : []
        }),
      ),
    dispose() {
      stop()
      sweep.close()
    },
  }
}
