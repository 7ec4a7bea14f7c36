import { expect, test } from 'vitest'
import { lightnessFromLuminance } from '../../../src/colour/lightness.ts'
import { isDarkPicture } from '../../../src/light/live/dark-picture.ts'

test('a picture is dark below L* 15 of its brightest channel (CIE 1976)', () => {
  expect(lightnessFromLuminance(0.02)).toBeCloseTo(15, 0)
  expect(isDarkPicture([0.019, 0.01, 0.005])).toBe(true)
  expect(isDarkPicture([0.021, 0.01, 0.005])).toBe(false)
})
