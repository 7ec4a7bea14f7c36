import { describe, expect, test } from 'vitest'
import { encodeTransfer } from '../../src/colour/rgb-spaces.ts'
import { clippingLevels } from '../../src/light/clipping-level.ts'
import type { StoredImage } from '../../src/light/image.ts'
import { meanCamera } from '../../src/light/simulate/mean-camera.ts'
import { respond } from '../../src/light/simulate/sensitivity.ts'
import { glowSpectrum } from '../../src/light/simulate/simulated-camera.ts'
import { type Triple, transform } from '../../src/numerics/matrix3.ts'
import { seeded } from '../accuracy/random.ts'

const SIZE = 96

/**
 * An uneven glow: red rises from left to right to `top`, green with it as a hotter glow's does (power 1.18).
 *
 * @param rises share of the code by which it rises
 */
function uneven(cutAt: number, top = 0.8, rises = 0.5): StoredImage {
  const random = seeded(7)
  const codes = new Float32Array(SIZE * SIZE * 3)
  for (let y = 0; y < SIZE; y++)
    for (let x = 0; x < SIZE; x++) {
      const rise = 1 - rises + (rises * x) / SIZE
      const red = Math.min(top * rise, cutAt) + 0.003 * random.normal()
      const green = 0.44 * top * rise ** 1.18 + 0.003 * random.normal()
      const at = 3 * (y * SIZE + x)
      codes[at] = Math.round(255 * red) / 255
      codes[at + 1] = Math.round(255 * green) / 255
      codes[at + 2] = 0.05
    }
  return { width: SIZE, height: SIZE, codes, space: 'display-p3' } as unknown as StoredImage
}

/**
 * A bar of 1173 K in its middle, as the mean of measured cameras delivers it, its red cut in the sensor: the
 * colour matrix then takes green off red, which falls where green rises.
 */
function cutInTheSensor(cutAt: number, coolerK: number, top: number): StoredImage {
  const { sensitivity, card, matrix } = meanCamera('daylight')
  const random = seeded(11)
  const raws = Array.from({ length: SIZE / 2 }, (_, i) =>
    respond(sensitivity, glowSpectrum(1173 - coolerK * (i / (SIZE / 2 - 1)) ** 2)),
  )
  const delivered = (raw: Triple) =>
    transform(matrix, [raw[0] / card[0], raw[1] / card[1], raw[2] / card[2]])
  const [hottest] = raws as [Triple]
  const gain = top / delivered(hottest)[0]
  const codes = new Float32Array(3 * SIZE * SIZE)
  for (let y = 0, at = 0; y < SIZE; y++)
    for (let x = 0; x < SIZE; x++, at += 3) {
      const [r, g, b] = raws[Math.min(Math.floor(Math.abs(x - SIZE / 2)), SIZE / 2 - 1)]!
      const noise = () => 0.005 * hottest[1] * random.normal()
      const seen = delivered([Math.min(r + noise(), cutAt * hottest[0]), g + noise(), b + noise()])
      for (const c of [0, 1, 2] as const)
        codes[at + c] = Math.round(255 * encodeTransfer(Math.max(gain * seen[c], 0))) / 255
    }
  return { width: SIZE, height: SIZE, codes, space: 'display-p3' }
}

describe('a plateau of red', () => {
  test.each([
    [0.85, 60, 0.8],
    [0.7, 60, 0.8],
    [0.7, 15, 0.8],
    [0.7, 60, 0.3],
  ])('cut in the sensor to %d of its top, %d K cooler aside, is found', (cut, cooler, top) => {
    expect(clippingLevels(cutInTheSensor(cut, cooler, top)).plateau[0]).toBe(true)
  })

  test.each([60, 15, 0])(
    'is none in the same bar, %d K cooler aside, that is not cut',
    (cooler) => {
      expect(clippingLevels(cutInTheSensor(10, cooler, 0.8)).plateau).toEqual([false, false, false])
    },
  )

  test('far below the top code is found where green goes on rising', () => {
    const { codes, plateau } = clippingLevels(uneven(0.6))
    expect(plateau[0]).toBe(true)
    expect(codes[0]).toBeGreaterThan(0.57)
    expect(codes[0]).toBeLessThan(0.6)
  })

  test.each([
    [0.95, 0.9],
    [0.8, 0.9],
    [0.64, 0.85],
    [0.5, 0.85],
  ])('that costs a tenth of the red light is found: up to %d, cut at %d of it', (top, cut) => {
    const rises = 0.2
    // Codes to light by a power of 2.2: 6 and 13 % are lost.
    const light = Array.from({ length: 100 }, (_, i) => (1 - rises + (rises * i) / 100) ** 2.2)
    const sum = (list: readonly number[]) => list.reduce((a, b) => a + b, 0)
    const lost = 1 - sum(light.map((v) => Math.min(v, cut ** 2.2))) / sum(light)
    expect(lost).toBeLessThan(0.14)
    expect(clippingLevels(uneven(top * cut, top, rises)).plateau[0]).toBe(true)
  })

  test('is none where red rises with green, however little', () => {
    for (const rises of [0.5, 0.2, 0.1, 0.02, 0])
      expect(clippingLevels(uneven(1, 0.8, rises)).plateau).toEqual([false, false, false])
  })
})
