import { expect, test } from 'vitest'
import { heatStrip } from '../../src/colour/heat-strip.ts'
import { heatSwatch } from '../../src/colour/heat-swatch.ts'
import { colourDifference } from '../../src/colour/nearest-swatch.ts'
import { decodeRgb, xyzFromLinearP3, xyzFromLinearSrgb } from '../../src/colour/rgb-spaces.ts'
import type { ScreenSpace } from '../../src/colour/screen-gamut.ts'
import type { Triple } from '../../src/numerics/matrix3.ts'

const xyzOf = (codes: Triple, space: ScreenSpace) =>
  (space === 'srgb' ? xyzFromLinearSrgb : xyzFromLinearP3)(decodeRgb(codes))

test.each([
  ['dark-shop', 'srgb'],
  ['dark-shop', 'display-p3'],
  ['hue', 'srgb'],
  ['hue', 'display-p3'],
] as const)('a strip of the view %s in %s shows the swatch of each temperature', (kind, screen) => {
  const settings = { view: { kind }, screen }
  const strip = heatStrip(settings)
  expect(strip.space).toBe(screen)
  let worst = 0
  for (let kelvin = 773.15; kelvin <= 3000; kelvin += 3.7) {
    const exact = xyzOf(heatSwatch(kelvin, settings).colour.codes, screen)
    worst = Math.max(worst, colourDifference(exact, xyzOf(strip.codesAt(kelvin), screen)))
  }
  // The requirement for a swatch is 0.5; about 1 is the least that an eye sees.
  expect(worst).toBeLessThan(0.4)
})
