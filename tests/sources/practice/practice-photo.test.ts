import { readFileSync } from 'node:fs'
import { describe, expect, test } from 'vitest'
import { decodeTransfer } from '../../../src/colour/rgb-spaces.ts'
import { meanCamera } from '../../../src/light/simulate/mean-camera.ts'
import { deliveredP3, glowSpectrum } from '../../../src/light/simulate/simulated-camera.ts'
import { transform } from '../../../src/numerics/matrix3.ts'
import { factsFromFile } from '../../../src/sources/files/exif.ts'
import { inspectPhoto } from '../../../src/sources/files/inspect.ts'
import truth from '../../../src/sources/practice/forge-bar.data.json'
import { forgeScene, SCENE, TRUE_PLACES } from '../../../src/sources/practice/forge-scene.ts'
import { takePhoto } from '../../../src/sources/practice/take-photo.ts'
import { expectClose } from '../../close-to.ts'

const camera = meanCamera('daylight')
const shipped = readFileSync(new URL('../../../public/practice/forge-bar.jpg', import.meta.url))

describe('the practice photo', () => {
  test('says in its own metadata that it is simulated, and takes less than 150 kB', async () => {
    expect(shipped.length).toBeLessThan(150_000)
    expect(inspectPhoto(shipped)).toMatchObject({
      space: 'display-p3',
      subsampling: '4:4:4',
      size: { width: truth.width, height: truth.height },
    })
    expect((await factsFromFile(shipped)).make).toBe('Simulated')
    expect(shipped.toString('latin1')).toContain('Simulated by Glowbook. No photograph.')
    expect(truth.simulated).toBe(true)
  })

  test('the glow has its stated temperature over its region, edge to edge', () => {
    const scene = forgeScene(camera)
    const { x, y, width, height } = TRUE_PLACES.glow
    const ratio = (temperatureK: number) => {
      const [r, g] = deliveredP3(camera, glowSpectrum(temperatureK))
      return g / r
    }
    // Three standard deviations to both sides; the trace of daylight on the bar is a part of it.
    const low = ratio(SCENE.temperatureK - 3 * SCENE.spreadK)
    const high = ratio(SCENE.temperatureK + 3 * SCENE.spreadK)
    let sum = 0
    for (let v = 0; v <= 1.001; v += 0.1) {
      for (let u = 0; u <= 1.001; u += 0.05) {
        const [r, g] = transform(camera.matrix, scene(x + u * width, y + v * height))
        expect(g / r).toBeGreaterThan(low)
        expect(g / r).toBeLessThan(high)
        sum += g / r
      }
    }
    const mean = sum / (11 * 21)
    expect(mean).toBeGreaterThan(ratio(SCENE.temperatureK - SCENE.spreadK))
    expect(mean).toBeLessThan(ratio(SCENE.temperatureK + SCENE.spreadK))
    expect(truth.temperatureK).toBe(SCENE.temperatureK)
  })

  test('the card is grey in the light that is stated', () => {
    const scene = forgeScene(camera)
    const { x, y, width, height } = TRUE_PLACES.card
    for (const [u, v] of [
      [0, 0],
      [1, 0],
      [0.5, 0.5],
      [0, 1],
      [1, 1],
    ] as const) {
      const [r, g, b] = transform(camera.matrix, scene(x + u * width, y + v * height))
      expectClose(g / r, 1, 0.01)
      expectClose(b / r, 1, 0.01)
    }
  })
})

describe('taking a simulated photo', () => {
  let state = 5
  const random = () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0
    return state / 4294967296
  }
  const take = (level: number) =>
    takePhoto(camera, () => [level, level, level], {
      width: 64,
      height: 64,
      fullElectrons: 10_000,
      readElectrons: 5,
      random,
    })

  test('an even grey comes out at its level, with the noise of its photons', () => {
    const greens = [...take(0.25)]
      .filter((_, i) => i % 3 === 1)
      .map((code) => decodeTransfer(code / 255))
    const mean = greens.reduce((a, b) => a + b, 0) / greens.length
    const sd = Math.sqrt(greens.reduce((sum, v) => sum + (v - mean) ** 2, 0) / greens.length)
    // Shot noise of 2500 electrons is 50 of 10000, read noise 5; the matrix adds its rows in
    // quadrature; one code is 1/255 * 2.4 * 0.25^(1.4/2.4) / 1.055 wide.
    const raw = Math.hypot(50, 5) / 10_000
    const row = Math.hypot(...camera.matrix[1])
    const code = ((2.4 / 1.055) * 0.25 ** (1.4 / 2.4)) / 255
    expectClose(sd, Math.hypot(raw * row, code / Math.sqrt(12)), 0.04)
    expect(Math.abs(mean - 0.25)).toBeLessThan((4 * sd) / 64)
  })

  test('too much light fills the pixels and no more', () => {
    expect(Math.min(...take(2))).toBe(255)
    expect(Math.max(...take(0))).toBeLessThan(20)
  })
})
