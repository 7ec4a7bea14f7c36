import { signal } from '@preact/signals'
import { expect, test } from 'vitest'
import { decodeTransfer, encodeTransfer } from '../../../src/colour/rgb-spaces.ts'
import { clippingLevels } from '../../../src/light/clipping-level.ts'
import type { Region, StoredImage } from '../../../src/light/image.ts'
import { lightImage } from '../../../src/light/tone-response.ts'
import type { CurveInUse } from '../../../src/session/reading/photo-meaning.ts'
import type { PhotoSlot } from '../../../src/session/reading/photo-slot.ts'
import { createStrayModel } from '../../../src/session/reading/stray-model.ts'
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
