import { computed, effect, type ReadonlySignal, signal } from '@preact/signals'
import type { ToneCurve } from '../../light/exposure-sweep/tone-curve.ts'
import type { Region } from '../../light/image.ts'
import { grown, pixelBox } from '../../light/region.ts'
import { measureWithoutStrayLight, type StrayResult } from '../../light/stray-light.ts'
import { exposureFromFacts } from '../../sources/files/photo-facts.ts'
import type { Photo } from '../../sources/photo/photo.ts'
import type { CurveInUse } from './photo-meaning.ts'
import { createPhotoSlot, type PhotoSlot, saysFailure } from './photo-slot.ts'

/** A photo of the same view with the glow off or covered: its light is taken off. */
export interface StrayModel {
  readonly slot: PhotoSlot
  readonly result: ReadonlySignal<StrayResult | null>
  dispose(): void
}

/** Around the region, for the ring of background: what measuring reads by itself, at most. */
const MARGIN = 96

async function measured(
  glow: Photo,
  lights: Photo,
  region: Region,
  curve: ToneCurve | null,
): Promise<StrayResult> {
  if (glow.width !== lights.width || glow.height !== lights.height) {
    return { kind: 'refused', reason: 'sizes differ' }
  }
  const around = pixelBox(grown(region, MARGIN), glow.width, glow.height)
  const box: Region = {
    shape: 'rectangle',
    x: around.left,
    y: around.top,
    width: around.right - around.left,
    height: around.bottom - around.top,
  }
  const [a, b] = await Promise.all([glow.readLight(box, curve), lights.readLight(box, curve)])
  const exposures = [exposureFromFacts(glow.facts), exposureFromFacts(lights.facts)]
  const [mine, theirs] = exposures
  const inBox = { ...region, x: region.x - box.x, y: region.y - box.y }
  return measureWithoutStrayLight(a, b, inBox, {
    chromaSubsampled: glow.chromaSubsampled,
    // Photos that do not state their exposure are taken as exposed alike.
    exposureRatio: mine && theirs ? mine / theirs : 1,
  })
}

/** @param decodedBy curve of the reading's own measurement: light adds up only where it is linear */
export function createStrayModel(
  glow: PhotoSlot,
  decodedBy: ReadonlySignal<CurveInUse | null>,
): StrayModel {
  const slot = createPhotoSlot()
  const found = signal<{ readonly result: StrayResult; readonly curve: ToneCurve | null } | null>(
    null,
  )
  const curveNow = computed(() => decodedBy.value?.kept.curve ?? null)
  // Of a former curve it does not belong to the present measurement.
  const result = computed(() =>
    found.value && found.value.curve === curveNow.value ? found.value.result : null,
  )
  let asked = 0
  const stop = effect(() => {
    const of = glow.photo.value
    const region = glow.region.value
    const lights = slot.photo.value
    const curve = curveNow.value
    const mine = ++asked
    if (!of || !region || !lights) {
      found.value = null
      return
    }
    measured(of, lights, region, curve).then(
      (answer) => {
        if (mine === asked) found.value = { result: answer, curve }
      },
      (error: unknown) => {
        // What was taken off belongs to another region.
        if (mine === asked && saysFailure(slot, lights, error)) found.value = null
      },
    )
  })
  return {
    slot,
    result,
    dispose() {
      stop()
      slot.close()
    },
  }
}
