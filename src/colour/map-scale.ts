import {
  type Color,
  clampChroma,
  converter,
  modeOklab,
  modeOklch,
  modeRgb,
  useMode,
} from 'culori/fn'
import type { Triple } from '../numerics/matrix3.ts'

for (const mode of [modeRgb, modeOklab, modeOklch]) useMode(mode)
const toRgb = converter('rgb')

/**
 * Colours that a glow never has, from deep blue to pale green: over a picture of something red nobody
 * takes them for its own. Lightness rises evenly with the value, so that the scale also reads in grey,
 * in print and with any deficiency of colour vision; the hue only helps.
 */
const COLDEST = { lightness: 0.26, hue: 275 }
const HOTTEST = { lightness: 0.94, hue: 150 }
/** OKLCh chroma in the middle; the ends are paler, because sRGB has no more there. */
const CHROMA = 0.14
/** Where only the red of a screen is shown hues would turn the order of the colours about: none. */
export const NO_CHROMA = 0
/** Lightness of the coldest over that of the hottest, where the scale must be darker. */
const COLDEST_SHARE = 0.3

/**
 * The colour of a share of the scale, 0 coldest to 1 hottest, as sRGB codes 0..1.
 *
 * @param brightest OKLab lightness that the hottest colour may have, 0..1: that of the glow itself
 *   where an eye used to the dark looks on
 */
export function mapColour(share: number, brightest = 1, chroma = CHROMA): Triple {
  const t = Math.min(Math.max(share, 0), 1)
  const top = Math.min(HOTTEST.lightness, brightest)
  const bottom = Math.min(COLDEST.lightness, COLDEST_SHARE * top)
  return codesOf({
    mode: 'oklch',
    l: bottom + t * (top - bottom),
    c: chroma * (1 - (2 * t - 1) ** 2 / 2),
    h: COLDEST.hue + t * (HOTTEST.hue - COLDEST.hue),
  })
}

function codesOf(colour: Color): Triple {
  const { r, g, b } = toRgb(clampChroma(colour, 'oklch'))
  const code = (v: number) => Math.min(Math.max(v, 0), 1)
  return [code(r), code(g), code(b)]
}

/**
 * The colour of a change of temperature, -1 coolest to 1 hottest: the two ends of {@link mapColour}, paler
 * towards a grey in the middle. Lightness rises evenly through it.
 */
export function changeColour(share: number, brightest = 1, chroma = CHROMA): Triple {
  const t = Math.min(Math.max(share, -1), 1)
  const top = Math.min(HOTTEST.lightness, brightest)
  const bottom = Math.min(COLDEST.lightness, COLDEST_SHARE * top)
  return codesOf({
    mode: 'oklch',
    l: bottom + ((t + 1) / 2) * (top - bottom),
    c: chroma * Math.min(2 * Math.abs(t), 1) * (1 - t ** 2 / 3),
    h: t < 0 ? COLDEST.hue : HOTTEST.hue,
  })
}

/** OKLab lightness of a grey as bright as a light (CIE Y, 1 = white): its cube root. */
export const lightnessOfGlow = (y: number): number => Math.cbrt(Math.max(y, 0))

const css = (codes: Triple): string =>
  `rgb(${codes.map((code) => Math.round(255 * code)).join(' ')})`

/** CSS notation. */
export const mapCss = (share: number, brightest = 1, chroma = CHROMA): string =>
  css(mapColour(share, brightest, chroma))
export const changeCss = (share: number, brightest = 1, chroma = CHROMA): string =>
  css(changeColour(share, brightest, chroma))
