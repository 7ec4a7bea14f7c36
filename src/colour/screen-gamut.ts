import {
  clampChroma,
  modeLrgb,
  modeOklab,
  modeOklch,
  modeP3,
  modeRgb,
  modeXyz65,
  useMode,
} from 'culori/fn'
import type { Triple } from '../numerics/matrix3.ts'
import { encodeRgb, linearP3FromXyz, linearSrgbFromXyz } from './rgb-spaces.ts'

/** RGB spaces of screens. */
export type ScreenSpace = 'srgb' | 'display-p3'

// Only these spaces are registered: each carries its conversions into the bundle.
for (const mode of [modeRgb, modeLrgb, modeXyz65, modeP3, modeOklab, modeOklch]) useMode(mode)

/** culori's names of the two spaces. */
const MODE = { srgb: 'rgb', 'display-p3': 'p3' } as const

/** A colour as a screen can show it. */
export interface ScreenColour {
  readonly space: ScreenSpace
  /** Codes 0..1. */
  readonly codes: Triple
  /** False where the colour had to be made paler to fit. */
  readonly exact: boolean
}

/**
 * Less than half of an 8-bit code beyond the gamut is no loss: the screen rounds that much anyway.
 * Between 645 and 786 °C the glow lies outside Display P3 by no more than this.
 */
const EDGE = 0.5 / 255
const clamp = (code: number) => Math.min(Math.max(code, 0), 1)

/**
 * A colour in a screen's space. Where it does not fit, its chroma is lowered in OKLCh at the same
 * lightness and hue until it does: clipping channels instead would turn a deep red orange.
 *
 * @param xyz relative to the screen's D65 white at Y = 1, not adapted: a glow keeps its own
 *   chromaticity. Lightness at or above white gives white.
 */
export function screenColour(xyz: Triple, space: ScreenSpace): ScreenColour {
  const codes = encodeRgb(space === 'srgb' ? linearSrgbFromXyz(xyz) : linearP3FromXyz(xyz))
  if (codes.every((code) => code >= -EDGE && code <= 1 + EDGE)) {
    return { space, codes: [clamp(codes[0]), clamp(codes[1]), clamp(codes[2])], exact: true }
  }
  const [r, g, b] = codes
  const mapped = clampChroma({ mode: MODE[space], r, g, b }, 'oklch', MODE[space])
  return { space, codes: [clamp(mapped.r), clamp(mapped.g), clamp(mapped.b)], exact: false }
}

/** CSS notation of a screen colour. */
export function cssColour({ space, codes }: Pick<ScreenColour, 'space' | 'codes'>): string {
  return `color(${space} ${codes.map((code) => code.toFixed(5)).join(' ')})`
}
