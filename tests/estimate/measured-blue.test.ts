import { describe, expect, test } from 'vitest'
import { P3_FROM_SRGB } from '../../src/colour/rgb-spaces.ts'
import { lightInP3 } from '../../src/estimate/balanced-colour.ts'
import { CAMERA_LOCUS } from '../../src/estimate/camera-locus/camera-locus.ts'
import { cameraModel } from '../../src/estimate/camera-model.ts'
import { estimateGlow } from '../../src/estimate/estimate-glow.ts'
import { glowProblem } from '../../src/estimate/glow-problem.ts'
import type { GlowInput, TemperatureEstimate } from '../../src/estimate/types.ts'
import type { LinearColour } from '../../src/light/image.ts'
import { transform } from '../../src/numerics/matrix3.ts'
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

test('a glow of the very colour of the lamp on its card is read whatever the camera is', () => {
  const [r, g] = lightInP3({ kind: 'filament', colourTemperatureK: LAMP_K })
  const light = { kind: 'filament', colourTemperatureK: LAMP_K, standardUncertaintyK: 25 } as const
  const byCamera = (change: Partial<GlowInput>, glow: LinearColour) => {
    const estimate = estimateGlow(reading(glow, { ...change, quality: lifted }))
    if (estimate.kind !== 'temperature') throw new Error(estimate.kind)
    expect(Math.abs(estimate.temperatureK - LAMP_K)).toBeLessThan(150)
    return estimate.budget.find(({ term }) => term === 'camera')?.standardUncertaintyK ?? 0
  }
  // What the camera sees green by, it sees in the card as well.
  const underLamp = byCamera({ balance: { ...CARD, light } }, colour(g / r, 1))
  expect(underLamp).toBeLessThan(0.2 * byCamera({}, seen(LAMP_K)))
})

describe('blue is a bound, not a value', () => {
  const verdict = (change: Partial<GlowInput>, glow = seen(1173)) =>
    glowProblem(reading(glow, change), CAMERA_LOCUS).reading.blue?.kind

  test('where more than a pixel in twenty is at its floor', () => {
    const at = (share: number) =>
      verdict({ quality: { ...reading(seen(1173)).quality, floorShare: [0, 0, share] } })
    expect([0.048, 0.052].map(at)).toEqual(['value', 'at most'])
  })

  const single = (space: 'srgb' | 'display-p3', blue: number) =>
    ({
      linearity: { kind: 'single', curveId: 'c', space, storedLevels: [0.7, 0.25, blue] },
    }) as const

  test('where its codes are the first or the second', () => {
    const at = (code: number) => verdict(single('display-p3', code / 255))
    expect([1.4, 1.6].map(at)).toEqual(['at most', 'value'])
  })

  test('where a photo in sRGB shows no more of it than a hundredth of red, which its edge may be', () => {
    // Blue of linear sRGB in linear Display P3 (both D65): the same colour by their matrices.
    const inSrgb = (blue: number) => {
      const [r, g, b] = transform(P3_FROM_SRGB, [1, 0.1, blue])
      return verdict(single('srgb', 0.1), colour(g / r, b / r))
    }
    expect([0.0093, 0.0107].map(inSrgb)).toEqual(['at most', 'value'])
  })
})
