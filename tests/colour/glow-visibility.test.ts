import fc from 'fast-check'
import { expect, test } from 'vitest'
import { D65 } from '../../src/colour/daylight.ts'
import {
  CONTRAST_THRESHOLD,
  FIRST_GLOW_K,
  FIRST_GLOW_LUMINANCE,
  glowLuminance,
  roomLightXyz,
  visibleFromK,
  visibleLuminance,
} from '../../src/colour/glow-visibility.ts'
import { expectClose } from '../close-to.ts'
import { directXyz, planck } from './direct-integration.ts'

test('in the dark a black body is first seen at Draper’s 525 °C', () => {
  // Draper 1847: 977 °F, 525 °C.
  expect(Math.abs(visibleFromK(0) - (525 + 273.15))).toBeLessThan(0.02)
})

test('the first glow has the luminance of a 1 nm integral', () => {
  const c1 = 2 * 6.62607015e-34 * 299792458 ** 2
  const at830 = c1 / (830e-9 ** 5 * Math.expm1(0.014387768775 / (830e-9 * FIRST_GLOW_K)))
  const relative = directXyz(planck(FIRST_GLOW_K))[1] / planck(FIRST_GLOW_K)(830)
  expectClose(FIRST_GLOW_LUMINANCE, 683 * 1e-9 * at830 * relative, 5e-5)
})

test('white paper at 1000 lx has 1000 / pi cd/m²', () => {
  // Lambert's law for a perfect diffuser.
  const [x, y, z] = roomLightXyz(1000, 1, D65)
  expectClose(y, 1000 / Math.PI, 1e-12)
  expectClose(x / (x + y + z), D65.x, 1e-12)
  expect(roomLightXyz(0, 0.5, D65)).toEqual([0, 0, 0])
  expect(roomLightXyz(-5, 0.5, D65)[1] === 0).toBe(true)
})

test('room light hides the low reds', () => {
  fc.assert(
    fc.property(
      fc.double({ min: 0, max: 1e4, noNaN: true }),
      fc.double({ min: 1, max: 1e4, noNaN: true }),
      (dim, more) => {
        expect(visibleFromK(dim + more)).toBeGreaterThan(visibleFromK(dim))
        expect(visibleLuminance(dim)).toBe(FIRST_GLOW_LUMINANCE + CONTRAST_THRESHOLD * dim)
      },
    ),
    { numRuns: 30 },
  )
})

test('where it begins to be visible the glow has just the luminance needed', () => {
  for (const luminance of [0, 1, 32, 1000]) {
    const fromK = visibleFromK(luminance)
    expectClose(glowLuminance(fromK), visibleLuminance(luminance), 5e-4)
  }
})

test('a duller surface must be hotter, and the sun drowns every glow', () => {
  expect(visibleFromK(30, () => 0.3)).toBeGreaterThan(visibleFromK(30))
  expect(visibleFromK(1e12)).toBe(Number.POSITIVE_INFINITY)
})
