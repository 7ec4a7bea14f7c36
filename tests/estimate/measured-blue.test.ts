import { expect, test } from 'vitest'
import { lightInP3 } from '../../src/estimate/balanced-colour.ts'
import { CAMERA_LOCUS } from '../../src/estimate/camera-locus/camera-locus.ts'
import { cameraModel } from '../../src/estimate/camera-model.ts'
import { estimateGlow } from '../../src/estimate/estimate-glow.ts'
import type { GlowInput, TemperatureEstimate } from '../../src/estimate/types.ts'
import { CARD, colour, DAYLIGHT, reading, reference, seen } from './inputs.ts'

const read = (input: GlowInput): TemperatureEstimate => {
  const estimate = estimateGlow(input)
  if (estimate.kind !== 'temperature') throw new Error(estimate.kind)
  expect(estimate.interval95K[0]).toBeLessThan(1173)
  expect(estimate.interval95K[1]).toBeGreaterThan(1173)
  return estimate
}
/** A photo with so much of its blue at the floor that the mean is no value any more. */
const lifted = { ...reading(seen(1173)).quality, floorShare: [0, 0, 0.1] as const }
const LAMP_K = 2700

test('a blue that the floor has lifted still says that there is no more of it', () => {
  const { mean } = seen(1173)
  const references = [reference(1073.6, 6, seen(1073.6))]
  const change = { faithfulColours: false, quality: lifted, references }
  const glow = (times: number) => colour(mean[1] / mean[0], (times * mean[2]) / mean[0])
  const bound = read(reading(glow(1), change))
  // Ten times as much is a bound that no filter would reach.
  const useless = read(reading(glow(10), change))
  expect(bound.expandedUncertaintyK).toBeLessThan(0.8 * useless.expandedUncertaintyK)
})

test('under a lamp on the card blue is seen as green is, through the camera itself', () => {
  const model = cameraModel(CAMERA_LOCUS, 'display-p3', DAYLIGHT)
  const [r, g, b] = lightInP3({ kind: 'filament', colourTemperatureK: LAMP_K })
  const green = (model.green(1173).mean / model.green(LAMP_K).mean) * (g / r)
  const blue = (model.blue(1173).mean / model.blue(LAMP_K).mean) * (b / r)
  const light = { kind: 'filament', colourTemperatureK: LAMP_K, standardUncertaintyK: 25 } as const
  const change = { faithfulColours: false, balance: { ...CARD, light, samePicture: true } }
  const withBlue = read(reading(colour(green, blue), change))
  const without = read(reading(colour(green, 10 * blue), { ...change, quality: lifted }))
  expect(withBlue.expandedUncertaintyK).toBeLessThan(0.8 * without.expandedUncertaintyK)
})
