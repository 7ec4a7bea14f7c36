import { expect, test } from 'vitest'
import { smearedBy, thinSmear } from '../../src/estimate/smeared-colour.ts'
import type { GlowInput } from '../../src/estimate/types.ts'
import { reading, seen } from './inputs.ts'

const photo = (
  quality: Partial<GlowInput['quality']>,
  faithfulColours = true,
  change: Partial<GlowInput> = {},
) => {
  const plain = reading(seen(1173), { faithfulColours, ...change })
  return { ...plain, quality: { ...plain.quality, ...quality } }
}

test('a glow narrower than stored colour is smeared by 0.2 of ln(G/R), a wide one by nothing', () => {
  expect(thinSmear(photo({ glowWidthPixels: 3, chromaSubsampled: true }))).toBe(0.2)
  expect(thinSmear(photo({ glowWidthPixels: 100, chromaSubsampled: true }))).toBe(0)
  expect(thinSmear(photo({ glowWidthPixels: 100, chromaSubsampled: false }))).toBe(0)
})

test('an ordinary photo smooths colour: 0.25 at 8 pixels, less by the square, no more than 0.5', () => {
  const smear = (glowWidthPixels: number, change: Partial<GlowInput> = {}) =>
    thinSmear(photo({ glowWidthPixels, chromaSubsampled: false }, false, change))
  expect(smear(8)).toBeCloseTo(0.25, 12)
  expect(smear(16)).toBeCloseTo(0.25 / 4, 12)
  expect(smear(2)).toBe(0.5)
  // Pixels as the sensor has them are not smoothed.
  expect(smear(8, { linearity: { kind: 'raw' } })).toBe(0)
  expect(smear(8, { channels: 'camera' })).toBe(0)
  expect(smear(8, { balanceState: { kind: 'raw', colourTemperatureK: null } })).toBe(0)
})

test('the halo of a sharpened edge adds its own, independently (JCGM 100, 5.1.2)', () => {
  const quality = { glowWidthPixels: 3, chromaSubsampled: true, haloLnRatio: 0.15 }
  expect(smearedBy(photo(quality))).toBeCloseTo(0.25, 12)
  expect(smearedBy(photo({ glowWidthPixels: 100, haloLnRatio: 0.15 }))).toBeCloseTo(0.15, 12)
  expect(smearedBy(photo({ glowWidthPixels: 100 }))).toBe(0)
})
