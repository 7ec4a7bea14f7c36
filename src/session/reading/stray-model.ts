import { effect, type ReadonlySignal, signal } from '@preact/signals'
import type { Region } from '../../light/image.ts'
import { grown, pixelBox } from '../../light/region.ts'
import { measureWithoutStrayLight, type StrayResult } from '../../light/stray-light.ts'
import { exposureFromFacts } from '../../sources/files/photo-facts.ts'
import type { Photo } from '../../sources/photo/photo.ts'
import { createPhotoSlot, type PhotoSlot } from './photo-slot.ts'

/** A photo of the same view with the glow off or covered: its light is taken off. */
export interface StrayModel {
  readonly slot: PhotoSlot
  readonly result: ReadonlySignal<StrayResult | null>
  dispose(): void
}

/** Around the region, for the ring of background: what measuring reads by itself, at most. */
const MARGIN = 96

async function measured(glow: Photo, lights: Photo, region: Region): Promise<StrayResult> {
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
  const [a, b] = await Promise.all([glow.readLight(box), lights.readLight(box)])
  const exposures = [exposureFromFacts(glow.facts), exposureFromFacts(lights.facts)]
  const [mine, theirs] = exposures
  const inBox = { ...region, x: region.x - box.x, y: region.y - box.y }
  return measureWithoutStrayLight(a, b, inBox, {
    chromaSubsampled: glow.chromaSubsampled,
    // Photos that do not state their exposure are taken as exposed alike.
    exposureRatio: mine && theirs ? mine / theirs : 1,
  })
}

export function createStrayModel(glow: PhotoSlot): StrayModel {
  const slot = createPhotoSlot()
  const result = signal<StrayResult | null>(null)
  let asked = 0
  const stop = effect(() => {
    const of = glow.photo.value
    const region = glow.region.value
    const lights = slot.photo.value
    const mine = ++asked
    if (!of || !region || !lights) {
      result.value = null
      return
    }
    measured(of, lights, region).then(
      (found) => {
        if (mine === asked) result.value = found
      },
      () => undefined,
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
