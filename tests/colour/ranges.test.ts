import { describe, expect, test } from 'vitest'
import { daylightXy } from '../../src/colour/daylight.ts'
import { glowLuminance, visibleLuminance } from '../../src/colour/glow-visibility.ts'
import { darkShopLightness } from '../../src/colour/heat-view.ts'
import { colourTemperatureFromUv, planckianUv } from '../../src/colour/planckian-locus.ts'
import { xyzFromLinearSrgb } from '../../src/colour/rgb-spaces.ts'
import { screenColour } from '../../src/colour/screen-gamut.ts'

/** Each range from both sides of its ends. */
describe('daylight', () => {
  test('is defined from 4000 to 25000 K, beyond it stays (CIE 15:2004, 3.1)', () => {
    const at = (kelvin: number) => daylightXy(kelvin).x
    expect(at(3800)).toBe(at(4000))
    expect(at(4200)).toBeLessThan(at(4000))
    expect(at(27_000)).toBe(at(25_000))
    expect(at(23_500)).toBeGreaterThan(at(25_000))
  })
})

describe('correlated colour temperature', () => {
  test('is looked for from 700 to 20000 K', () => {
    const kind = (kelvin: number) => colourTemperatureFromUv(planckianUv(kelvin)).kind
    expect([680, 720, 19_500, 20_500].map(kind)).toEqual([
      'colder than range',
      'near',
      'near',
      'hotter than range',
    ])
  })

  test('means nothing further than 0.05 from the locus (CIE 15:2018, 9.5)', () => {
    // Across the locus at 3000 K, by its own neighbours.
    const [a, b] = [planckianUv(2999), planckianUv(3001)]
    const length = Math.hypot(b.u - a.u, b.v - a.v)
    const across = { u: -(b.v - a.v) / length, v: (b.u - a.u) / length }
    const at = planckianUv(3000)
    const kind = (duv: number) =>
      colourTemperatureFromUv({ u: at.u + duv * across.u, v: at.v + duv * across.v }).kind
    expect([-0.052, -0.048, 0.048, 0.052].map(kind)).toEqual(['too far', 'near', 'near', 'too far'])
  })
})

describe('what an eye sees', () => {
  test('stands 2 % above the room light (Koschmieder 1924, from memory)', () => {
    expect(visibleLuminance(1000) - visibleLuminance(0)).toBeCloseTo(20, 9)
  })

  test('in a dark shop ends at a lamp of 3000 K, at L* 95', () => {
    expect(darkShopLightness(glowLuminance(3000))).toBeCloseTo(95, 9)
    expect(darkShopLightness(glowLuminance(2800))).toBeLessThan(95)
  })
})

describe('a screen', () => {
  test('shows what lies less than half a code outside as it is, more by a paler colour', () => {
    // Below 0.04045 sRGB is linear: code / 12.92 (IEC 61966-2-1).
    const exact = (codes: number) =>
      screenColour(xyzFromLinearSrgb([0.2, 0.1, codes / 255 / 12.92]), 'srgb').exact
    expect([-0.53, -0.47, 0].map(exact)).toEqual([false, true, true])
  })
})
