import { expect, test } from 'vitest'
import { CAMERA_LOCUS } from '../../src/estimate/camera-locus/camera-locus.ts'
import { cameraPosterior } from '../../src/estimate/camera-posterior.ts'
import { glowProblem } from '../../src/estimate/glow-problem.ts'
import { locusView } from '../../src/estimate/locus-view.ts'
import { hottestOfSoLittleGreen } from '../../src/estimate/upper-limit.ts'
import { colour, reading, STEEL } from './inputs.ts'

const limitOf = (greenOverRed: number) => {
  const glow = colour(greenOverRed, 0.001, 1e-4)
  const surface = { ...STEEL, standardUncertainty: 0 }
  const input = reading(glow, { surface, faithfulColours: false })
  return hottestOfSoLittleGreen(cameraPosterior(glowProblem(input, CAMERA_LOCUS)))
}

test('the hottest that a dull glow may be is where 1 camera in 40 stores as little green', () => {
  const { prior } = locusView({
    channels: 'display-p3',
    cameraToXyz: null,
    balanceState: reading(colour(0.1, 0.01)).balanceState,
    cameraId: 'phone',
    references: [],
  })
  // The lower end of the band of cameras holds so many below; drift and card open 0.006 of ln(G/R) more.
  for (const i of [3, 8, 15]) {
    const kelvin = prior.temperatureK[i]!
    expect(Math.abs(limitOf(prior.low95[i]!) - kelvin)).toBeLessThan(0.003 * kelvin)
  }
})

test('it lies within the range of the locus', () => {
  expect(limitOf(-1)).toBeLessThan(CAMERA_LOCUS.coldestK + 1)
  expect(limitOf(5)).toBeCloseTo(CAMERA_LOCUS.hottestK, 0)
})
