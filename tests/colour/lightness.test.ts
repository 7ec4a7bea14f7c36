import { converter } from 'culori'
import { expect, test } from 'vitest'
import { lightnessFromLuminance, luminanceFromLightness } from '../../src/colour/lightness.ts'
import { expectPrinted } from '../close-to.ts'

test('18 % grey has the lightness that photographers know', () => {
  // L* of Y = 0.18: 49.5 (common practice; 18.4 % gives 50).
  expectPrinted(lightnessFromLuminance(0.18), '49.5')
  expectPrinted(luminanceFromLightness(50), '0.184')
})

test('culori agrees', () => {
  const lab = converter('lab65')
  for (let y = 0; y <= 1.2; y += 0.004) {
    const { l } = lab({ mode: 'xyz65', x: y, y, z: y })
    expect(Math.abs(lightnessFromLuminance(y) - l)).toBeLessThan(1e-9)
  }
})

test('there is no darkness below black', () => {
  expect(lightnessFromLuminance(-1)).toBe(0)
  expect(luminanceFromLightness(-1)).toBe(0)
})
