import fc from 'fast-check'
import { expect, test } from 'vitest'
import { xyFromXyz } from '../../src/colour/chromaticity.ts'
import { planckXyz, spectrumFromSamples, xyzFromSpectrum } from '../../src/colour/xyz.ts'
import { planckRadiance } from '../../src/physics/planck.ts'
import { expectClose, expectPrinted } from '../close-to.ts'
import { directXyz, planck } from './direct-integration.ts'

test('a black body at the freezing point of platinum has the 60 cd/cm² of the old candela', () => {
  // CGPM 9 (1948), the candela; platinum freezes at 2041.4 K on ITS-90.
  expectPrinted(planckXyz(2041.4)[1] / 1e4, '60')
})

test('the equal-energy spectrum is white at one third', () => {
  const white = xyFromXyz(xyzFromSpectrum(() => 1))!
  // CIE 15:2004: E has x = 0.3333, y = 0.3333.
  expectPrinted(white.x, '0.3333')
  expectPrinted(white.y, '0.3333')
})

test('Planck by the fast path is Planck by the general one', () => {
  for (const temperatureK of [300, 700, 1173.15, 2856, 6500, 20000, 1e6, 1e9]) {
    const fast = planckXyz(temperatureK)
    const slow = xyzFromSpectrum((nm) => planckRadiance(nm * 1e-9, temperatureK))
    for (let k = 0; k < 3; k++) expectClose(fast[k]!, slow[k]!, 1e-12, `${temperatureK} K`)
  }
})

test('its luminance agrees with the published 1 nm table', () => {
  for (let temperatureK = 700; temperatureK <= 4000; temperatureK += 100) {
    const [, y] = planckXyz(temperatureK)
    const absolute = planckRadiance(830e-9, temperatureK) / planck(temperatureK)(830)
    expectClose(y, 683 * 1e-9 * absolute * directXyz(planck(temperatureK))[1], 5e-5)
  }
})

test('a grey body has the colour of a black one and its share of the light', () => {
  const black = planckXyz(1200)
  const grey = planckXyz(1200, undefined, () => 0.4)
  for (let k = 0; k < 3; k++) expectClose(grey[k]!, 0.4 * black[k]!, 1e-12)
})

test('emissivity that falls towards the red makes the glow bluer', () => {
  const tilted = xyFromXyz(planckXyz(1200, undefined, (nm) => 0.5 - (nm - 600) * 1e-3))!
  expect(tilted.x).toBeLessThan(xyFromXyz(planckXyz(1200))!.x)
})

test('light grows with temperature, is finite, and is nothing at and below absolute zero', () => {
  fc.assert(
    fc.property(fc.double({ min: 250, max: 1e6, noNaN: true }), (temperatureK) => {
      const cold = planckXyz(temperatureK)
      const hot = planckXyz(temperatureK * 1.001)
      for (let k = 0; k < 3; k++) {
        expect(Number.isFinite(cold[k]!)).toBe(true)
        expect(hot[k]!).toBeGreaterThan(cold[k]!)
      }
    }),
  )
  for (const temperatureK of [0, -5, 1e-9, Number.NaN]) {
    expect(planckXyz(temperatureK)).toEqual([0, 0, 0])
  }
})

test('samples are joined by lines and held beyond their ends', () => {
  const spectrum = spectrumFromSamples([1, 3, 2], 400, 10)
  expect([380, 400, 405, 410, 415, 420, 900].map(spectrum)).toEqual([1, 1, 2, 3, 2.5, 2, 2])
  expect(spectrumFromSamples([7], 400, 10)(555)).toBe(7)
  expect(spectrumFromSamples([7], 400, 10)(355)).toBe(7)
})
