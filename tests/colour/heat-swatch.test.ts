import Color from 'colorjs.io'
import { converter } from 'culori'
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { D65 } from '../../src/colour/daylight.ts'
import { glowLuminance, roomLightXyz } from '../../src/colour/glow-visibility.ts'
import { heatSwatch, heatSwatches } from '../../src/colour/heat-swatch.ts'
import {
  CAMERA_LEVEL,
  DARK_SHOP_TOP_LIGHTNESS,
  darkShopLightness,
  type HeatView,
  HUE_LIGHTNESS,
} from '../../src/colour/heat-view.ts'
import { lightnessFromLuminance } from '../../src/colour/lightness.ts'
import { decodeRgb } from '../../src/colour/rgb-spaces.ts'
import { cssColour, screenColour } from '../../src/colour/screen-gamut.ts'
import type { Triple } from '../../src/numerics/matrix3.ts'
import { expectClose } from '../close-to.ts'
import { directXyz, planck } from './direct-integration.ts'

/** A camera that sees as linear Display P3 does: ratios of the 1 nm integral by colorjs.io. */
const idealLook = (temperatureK: number) => {
  const [r, g, b] = new Color('xyz-d65', directXyz(planck(temperatureK))).to('p3-linear').coords
  return { greenOverRed: g / r, blueOverRed: b / r }
}
const VIEWS: readonly HeatView[] = [
  { kind: 'hue' },
  { kind: 'dark-shop' },
  { kind: 'camera', look: idealLook },
]
const SCREENS = ['srgb', 'display-p3'] as const
const TEMPERATURES = Array.from({ length: 51 }, (_, i) => 773.15 + 45 * i)

/** The same swatch from the 1 nm table by colorjs.io, lightness by its own L*. */
function independent(view: HeatView, temperatureK: number): Color {
  const [X, Y, Z] = directXyz(planck(temperatureK))
  if (view.kind === 'camera') {
    const { greenOverRed: g, blueOverRed: b } = idealLook(temperatureK)
    return new Color('p3-linear', [0.9, 0.9 * Math.max(g, 0), 0.9 * Math.max(b, 0)])
  }
  const lightness = view.kind === 'hue' ? 50 : independentDarkShop(temperatureK)
  const luminance = lightness > 8 ? ((lightness + 16) / 116) ** 3 : (lightness * 27) / 24389
  return new Color('xyz-d65', [(X / Y) * luminance, luminance, (Z / Y) * luminance])
}

/** L* 0 at the luminance of 525 °C, 95 at that of 3000 K, straight in log luminance. */
function independentDarkShop(temperatureK: number): number {
  const log = (t: number) => Math.log(directXyz(planck(t))[1] / planck(t)(600)) + logWien600(t)
  const logWien600 = (t: number) => -Math.log(Math.expm1(0.014387768775 / (600e-9 * t)))
  const share = (log(temperatureK) - log(798.15)) / (log(3000) - log(798.15))
  return Math.min(Math.max(share, 0) * 95, 100)
}

describe.each(VIEWS)('view $kind', (view) => {
  test('every swatch is within CIEDE2000 0.5 of colorjs.io’s, before gamut mapping', () => {
    let worst = 0
    for (const swatch of heatSwatches(TEMPERATURES, { view, screen: 'srgb' })) {
      const ours = new Color('xyz-d65', [...swatch.xyz])
      worst = Math.max(worst, ours.deltaE(independent(view, swatch.temperatureK), '2000'))
    }
    // The requirement is 0.5; the code agrees to this.
    expect(worst).toBeLessThan(0.01)
  })

  test.each(SCREENS)('every swatch is inside the gamut of %s', (screen) => {
    for (const { colour } of heatSwatches(TEMPERATURES, { view, screen })) {
      expect(colour.codes.every((code) => code >= 0 && code <= 1)).toBe(true)
      expect(new Color(cssColour(colour)).inGamut()).toBe(true)
    }
  })

  test.each(SCREENS)('mapping into %s keeps hue and lightness', (screen) => {
    const oklch = converter('oklch')
    for (const { xyz, colour } of heatSwatches(TEMPERATURES, { view, screen })) {
      const [x, y, z] = xyz
      const before = oklch({ mode: 'xyz65', x, y, z })
      const [r, g, b] = colour.codes
      const after = oklch({ mode: screen === 'srgb' ? 'rgb' : 'p3', r, g, b })
      if (before.l < 0.05 || before.l > 0.99) continue // hardly a colour
      expect(Math.abs(after.l - before.l)).toBeLessThan(1e-3)
      expect(Math.abs((after.h ?? 0) - (before.h ?? 0))).toBeLessThan(0.2)
      expect(after.c).toBeLessThanOrEqual(before.c + 1e-4)
      if (colour.exact) expect(Math.abs(after.c - before.c)).toBeLessThan(2e-3)
    }
  })

  test('it is finite and has its place for every temperature, surface and room', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 300, max: 20000, noNaN: true }),
        fc.double({ min: 0.01, max: 1, noNaN: true }),
        fc.double({ min: 0, max: 1e5, noNaN: true }),
        fc.constantFrom(...SCREENS),
        (temperatureK, emissivity, lux, screen) => {
          const swatch = heatSwatch(temperatureK, {
            view: view.kind === 'camera' ? { kind: 'camera', look: plainLook } : view,
            screen,
            emissivity: () => emissivity,
            room: roomLightXyz(lux, 1 - emissivity, D65),
          })
          const numbers = [...swatch.xyz, ...swatch.colour.codes, swatch.relativeLuminance]
          expect(numbers.every(Number.isFinite)).toBe(true)
          expect(swatch.colour.codes.every((code) => code >= 0 && code <= 1)).toBe(true)
        },
      ),
    )
  })
})

/** Fast and rough, for properties: green rises with temperature and starts below zero. */
const plainLook = (temperatureK: number) => ({
  greenOverRed: (temperatureK - 800) / 4000,
  blueOverRed: (temperatureK - 1500) / 6000,
})

describe('hue view', () => {
  test('all swatches have one lightness', () => {
    for (const { xyz } of heatSwatches(TEMPERATURES, { view: { kind: 'hue' }, screen: 'srgb' })) {
      expect(Math.abs(lightnessFromLuminance(xyz[1]) - HUE_LIGHTNESS)).toBeLessThan(1e-9)
    }
  })

  test('Display P3 holds the reds from 540 °C up as they are, sRGB none below 1600 °C', () => {
    const exact = (celsius: number, screen: 'srgb' | 'display-p3') =>
      heatSwatch(celsius + 273.15, { view: { kind: 'hue' }, screen }).colour.exact
    expect(exact(530, 'display-p3')).toBe(false)
    expect(exact(545, 'display-p3')).toBe(true)
    expect(exact(700, 'display-p3')).toBe(true)
    expect(exact(900, 'display-p3')).toBe(true)
    expect(exact(900, 'srgb')).toBe(false)
    expect(exact(1550, 'srgb')).toBe(false)
    expect(exact(1650, 'srgb')).toBe(true)
  })

  test('a grey surface looks like a black body, one with a slope does not', () => {
    const view = { kind: 'hue' } as const
    const black = heatSwatch(1173, { view, screen: 'srgb' })
    const grey = heatSwatch(1173, { view, screen: 'srgb', emissivity: () => 0.3 })
    for (let k = 0; k < 3; k++) expectClose(grey.xyz[k]!, black.xyz[k]!, 1e-12)
    const sloped = heatSwatch(1173, { view, screen: 'srgb', emissivity: (nm) => 200 / nm })
    expect(sloped.xy!.x).toBeLessThan(black.xy!.x)
  })
})

describe('dark-shop view', () => {
  test('black at the first visible glow, then lighter in equal steps of log luminance', () => {
    expect(darkShopLightness(glowLuminance(798.15))).toBe(0)
    expect(darkShopLightness(0)).toBe(0)
    expect(darkShopLightness(Number.NaN)).toBe(0)
    expect(darkShopLightness(glowLuminance(3000))).toBeCloseTo(DARK_SHOP_TOP_LIGHTNESS, 9)
    expect(darkShopLightness(1e30)).toBe(100)
    const step = darkShopLightness(10) - darkShopLightness(1)
    expect(darkShopLightness(1000) - darkShopLightness(100)).toBeCloseTo(step, 9)
  })

  test('hotter is lighter, and red goes to orange goes to yellow', () => {
    const swatches = heatSwatches(TEMPERATURES, { view: { kind: 'dark-shop' }, screen: 'srgb' })
    for (let i = 2; i < swatches.length; i++) {
      expect(swatches[i]!.xyz[1]).toBeGreaterThan(swatches[i - 1]!.xyz[1])
      expect(swatches[i]!.xy!.x).toBeLessThan(swatches[i - 1]!.xy!.x)
    }
  })
})

describe('camera view', () => {
  const view: HeatView = { kind: 'camera', look: plainLook }

  test('stores the camera’s own ratios, the highest channel just below the top', () => {
    const { codes, exact } = heatSwatch(1600, { view, screen: 'display-p3' }).colour
    const [r, g, b] = decodeRgb(codes)
    expect(exact).toBe(true)
    expect(r).toBeCloseTo(CAMERA_LEVEL, 9)
    expect(g / r).toBeCloseTo(0.2, 9)
    expect(b / r).toBeCloseTo(100 / 6000, 9)
  })

  test('a channel below zero is stored as zero', () => {
    const { codes } = heatSwatch(780, { view, screen: 'display-p3' }).colour
    expect(codes[1]).toBeCloseTo(0, 9)
    expect(codes[2]).toBeCloseTo(0, 9)
  })

  test('much room light turns it grey', () => {
    const room: Triple = roomLightXyz(1e6, 1, D65)
    const [r, g, b] = heatSwatch(900, { view, screen: 'display-p3', room }).colour.codes
    expect(Math.abs(r - g)).toBeLessThan(1e-3)
    expect(Math.abs(r - b)).toBeLessThan(1e-3)
  })
})

test('room light moves the colour to its own and hides the dull reds', () => {
  const view = { kind: 'hue' } as const
  const room = roomLightXyz(500, 0.2, D65)
  const lit = heatSwatch(850, { view, screen: 'srgb', room })
  expect(lit.visible).toBe(false)
  expect(Math.abs(lit.xy!.x - D65.x)).toBeLessThan(0.02)
  const hot = heatSwatch(1500, { view, screen: 'srgb', room })
  expect(hot.visible).toBe(true)
  expect(Math.abs(hot.xy!.x - heatSwatch(1500, { view, screen: 'srgb' }).xy!.x)).toBeLessThan(0.005)
})

test('luminance is told relative to 1000 °C of the same surface', () => {
  const settings = { view: { kind: 'hue' }, screen: 'srgb', emissivity: () => 0.6 } as const
  expect(heatSwatch(1273.15, settings).relativeLuminance).toBe(1)
  // Luminance of a black body rises about as T^(c2 / (lambda T)), some 18th power here (Wien).
  const exponent = Math.log(heatSwatch(1285.8815, settings).relativeLuminance) / Math.log(1.01)
  expect(exponent).toBeGreaterThan(17)
  expect(exponent).toBeLessThan(20)
})

test('a colour on the edge of the gamut is left alone, one beyond white becomes white', () => {
  const red = screenColour([0.4123907992659593, 0.21263900587151024, 0.01933081871559182], 'srgb')
  expect(red.exact).toBe(true)
  expect(red.codes[0]).toBeCloseTo(1, 9)
  const glare = screenColour([2, 2.1, 2.2], 'srgb')
  expect(glare.exact).toBe(false)
  for (const code of glare.codes) expect(code).toBeCloseTo(1, 6)
})
