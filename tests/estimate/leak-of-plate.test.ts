import { describe, expect, test } from 'vitest'
import { CAMERA_LOCUS } from '../../src/estimate/camera-locus/camera-locus.ts'
import { cameraModel } from '../../src/estimate/camera-model.ts'
import { leakOfPlate } from '../../src/estimate/leak-of-plate.ts'
import { colour, DAYLIGHT, reading } from './inputs.ts'

const QUALITY = reading(colour(1, 1)).quality
/** G/R and B/R of a plate of 475 °C as the mean camera sees it. */
function plate(leak: number) {
  const { green, blue } = cameraModel(CAMERA_LOCUS, 'display-p3', DAYLIGHT, {
    leak: { mean: leak, sd: 0, weight: 1 },
    rendered: false,
  })
  return [green(748).mean, blue(748).mean] as const
}

describe('the leak of a filter by a plate of 475 °C', () => {
  const of = (leak: number) => leakOfPlate(reading(colour(...plate(leak))))!

  test.each([1e-5, 1e-4, 1e-3])(
    'is found where it is %d, within its ±, a factor of 3 at most',
    (leak) => {
      const { leak: told, lnSd } = of(leak)
      expect(Math.abs(Math.log(told / leak))).toBeLessThan(lnSd)
      // Steps of ln 10000 / 12: what is even within one has 0.22 of it (JCGM 100, 4.3.7).
      expect(lnSd).toBeGreaterThan(Math.log(1e4) / 12 / Math.sqrt(12))
      expect(lnSd).toBeLessThan(Math.log(3))
    },
  )

  test('does not need blue, but is surer with it', () => {
    const [green, blue] = plate(1e-4)
    const dark = { ...QUALITY, floorShare: [0, 0, 1] as const }
    const without = leakOfPlate(reading(colour(green, 10 * blue), { quality: dark }))!
    expect(Math.abs(Math.log(without.leak / 1e-4))).toBeLessThan(2 * without.lnSd)
    expect(without.lnSd).toBeGreaterThan(of(1e-4).lnSd)
  })

  test('does not lean on known heats, whose cameras are another matter', () => {
    const plain = leakOfPlate(reading(colour(...plate(1e-4))))
    const input = reading(colour(...plate(1e-4)))
    expect(leakOfPlate({ ...input, references: [{} as never] })).toEqual(plain)
  })
})

test('a colour is that of no plate from three standard deviations on', () => {
  // Much greener than any leak makes it, and so noisy that the noise is nearly all that is open.
  const GREEN = 5
  const atMost = plate(1e-2)[0]
  const quality = { ...QUALITY, floorShare: [0, 0, 1] as const }
  const deviations = (noise: number) => (GREEN - atMost) / (GREEN * Math.SQRT2 * noise)
  const isPlate = (noise: number) =>
    leakOfPlate(reading(colour(GREEN, 1, noise), { quality })) !== null
  const noiseAt = (times: number) => (GREEN - atMost) / (GREEN * Math.SQRT2 * times)
  expect(deviations(noiseAt(3))).toBeCloseTo(3, 9)
  expect([3.15, 2.85].map(noiseAt).map(isPlate)).toEqual([false, true])
})
