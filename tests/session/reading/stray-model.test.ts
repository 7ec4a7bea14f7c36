import { signal } from '@preact/signals'
import { expect, test } from 'vitest'
import { decodeTransfer, encodeTransfer } from '../../../src/colour/rgb-spaces.ts'
import { clippingLevels } from '../../../src/light/clipping-level.ts'
import type { Region, StoredImage } from '../../../src/light/image.ts'
import { lightImage } from '../../../src/light/tone-response.ts'
import type { CurveInUse } from '../../../src/session/reading/photo-meaning.ts'
import type { PhotoSlot } from '../../../src/session/reading/photo-slot.ts'
import { createStrayModel } from '../../../src/session/reading/stray-model.ts'
import { NO_FACTS } from '../../../src/sources/files/photo-facts.ts'
import type { Photo } from '../../../src/sources/photo/photo.ts'
import { barScene, picture, type Scene } from '../../light/pictures.ts'

const CONTRAST = 1.3
const GLOW = [0.4, 0.04, 0.008] as const
const lamp: Scene = () => [0.06, 0.05, 0.03]
const both: Scene = (x, y) => {
  const [r, g, b] = barScene(GLOW, { x: 20, y: 20, width: 80, height: 40 }, [0, 0, 0])(x, y)
  return [r + 0.06, g + 0.05, b + 0.03]
}
const encode = (v: number) => encodeTransfer(Math.max(v, 0) ** CONTRAST)
const stored = (scene: Scene, seed: number) =>
  picture(120, 80, scene, { seed, encode: ([r, g, b]) => [encode(r), encode(g), encode(b)] })

/** A photo by a camera of more contrast than its file states, which a kept curve undoes. */
function photoOf(image: StoredImage): Photo {
  const by = (power: number) =>
    lightImage(image, clippingLevels(image), (r, g, b, out) => {
      ;[r, g, b].forEach((code, c) => {
        out[c] = decodeTransfer(code) ** power
      })
    })
  return {
    width: image.width,
    height: image.height,
    chromaSubsampled: false,
    facts: {},
    close: () => undefined,
    readLight: async (_: Region, curve: object | null) => by(curve ? 1 / CONTRAST : 1),
  } as unknown as Photo
}
const kept = { kept: { id: 'a curve', curve: {} }, movedBy: 0 } as unknown as CurveInUse

test('other light is taken off in the light of the curve by which the photo is measured', async () => {
  const inBar: Region = { shape: 'rectangle', x: 30, y: 25, width: 60, height: 30 }
  const glow = { photo: signal(photoOf(stored(both, 1))), region: signal(inBar) }
  const decodedBy = signal<CurveInUse | null>(null)
  const stray = createStrayModel(glow as unknown as PhotoSlot, decodedBy)
  Object.assign(stray.slot.photo, { value: photoOf(stored(lamp, 2)) })
  const ratio = async () => {
    await expect.poll(() => stray.result.value).not.toBeNull()
    const result = stray.result.value
    if (result?.kind !== 'measured') return expect.fail(result?.reason)
    const { mean } = result.measurement.glow
    return mean[1] / mean[0]
  }
  expect(Math.abs((await ratio()) / 0.1 - 1)).toBeGreaterThan(0.2)
  decodedBy.value = kept
  expect(stray.result.value).toBeNull()
  expect(Math.abs((await ratio()) / 0.1 - 1)).toBeLessThan(0.03)
  stray.dispose()
})

/** An even picture of this level, of which its file states so much. */
const even = (level: number, facts: object, side = 40): Photo =>
  ({
    width: side,
    height: side,
    facts: { ...NO_FACTS, ...facts },
    close: () => undefined,
    readLight: async (box: Region) => ({
      width: box.width,
      height: box.height,
      channels: 'display-p3',
      rgb: new Float32Array(3 * box.width * box.height).fill(level),
      flags: new Uint8Array(box.width * box.height),
    }),
  }) as unknown as Photo

/** What is left of an even glow of 0.5 by another photo. */
async function withoutOther(facts: object, other: Photo) {
  const region: Region = { shape: 'rectangle', x: 12, y: 12, width: 16, height: 16 }
  const glow = { photo: signal(even(0.5, facts)), region: signal<Region | null>(region) }
  const stray = createStrayModel(glow as unknown as PhotoSlot, signal(null))
  expect(stray.result.value).toBeNull()
  Object.assign(stray.slot.photo, { value: other })
  await expect.poll(() => stray.result.value).not.toBeNull()
  const result = stray.result.value!
  glow.region.value = null
  expect(stray.result.value).toBeNull()
  stray.dispose()
  return result.kind === 'measured' ? result.measurement.glow.mean[0] : result.reason
}

test('other light counts by how long it was exposed, where both files state it', async () => {
  const exposed = (exposureSeconds: number) => ({ exposureSeconds, iso: 100, fNumber: 2 })
  expect(await withoutOther(exposed(0.04), even(0.02, exposed(0.01)))).toBeCloseTo(0.42, 3)
  expect(await withoutOther(exposed(0.01), even(0.02, exposed(0.01)))).toBeCloseTo(0.48, 3)
  for (const [mine, theirs] of [
    [exposed(0.04), {}],
    [{}, exposed(0.01)],
  ] as const)
    expect(await withoutOther(mine, even(0.02, theirs))).toBeCloseTo(0.48, 3)
})

test('a photo of another size is refused', async () => {
  expect(await withoutOther({}, even(0.02, {}, 60))).toBe('sizes differ')
})
