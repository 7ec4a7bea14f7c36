import { bradford } from '../../colour/adaptation.ts'
import type { Xy } from '../../colour/chromaticity.ts'
import {
  decodeTransfer,
  P3_FROM_XYZ,
  WHITE_D65,
  xyzFromRgbMatrix,
} from '../../colour/rgb-spaces.ts'
import { multiply } from '../../numerics/matrix3.ts'
import { CURVE_STEPS, type MatrixProfile } from './icc-profile.ts'

/** Chromaticities of a file's white and primaries. */
export interface StatedPrimaries {
  readonly white: Xy
  readonly red: Xy
  readonly green: Xy
  readonly blue: Xy
}

const SRGB_PRIMARIES: StatedPrimaries = {
  white: WHITE_D65,
  red: { x: 0.64, y: 0.33 },
  green: { x: 0.3, y: 0.6 },
  blue: { x: 0.15, y: 0.06 },
}

/** By code point, all with white D65. Source: ITU-T H.273 (2024), table 2. */
const PRIMARIES_OF: Readonly<Record<number, StatedPrimaries>> = {
  1: SRGB_PRIMARIES,
  9: {
    white: WHITE_D65,
    red: { x: 0.708, y: 0.292 },
    green: { x: 0.17, y: 0.797 },
    blue: { x: 0.131, y: 0.046 },
  },
  12: {
    white: WHITE_D65,
    red: { x: 0.68, y: 0.32 },
    green: { x: 0.265, y: 0.69 },
    blue: { x: 0.15, y: 0.06 },
  },
}

/** ITU-R BT.709-6, item 1.2, from code to the light at the camera, which is what is measured here. */
const videoLight = (code: number) =>
  code < 0.081 ? code / 4.5 : ((code + 0.099) / 1.099) ** (1 / 0.45)

/** Code 0..1 to linear light, by code point. Source: ITU-T H.273 (2024), table 3. */
const LIGHT_OF: Readonly<Record<number, (code: number) => number>> = {
  1: videoLight,
  4: (code) => code ** 2.2,
  5: (code) => code ** 2.8,
  6: videoLight,
  8: (code) => code,
  13: decodeTransfer,
  14: videoLight,
  15: videoLight,
}

/**
 * What code points of ITU-T H.273 say of a file's colours.
 *
 * @returns null for code points that are not read here
 */
export function profileOfCodePoints(primaries: number, transfer: number): MatrixProfile | null {
  const [stated, light] = [PRIMARIES_OF[primaries], LIGHT_OF[transfer]]
  return stated && light ? profileOf(stated, light) : null
}

/**
 * What the gAMA and cHRM chunks of a PNG say; sRGB in place of the one that is missing.
 *
 * @param gamma exponent from light to code, 0.45455 in most files; null where not stated
 * @returns null where no colours follow from the numbers
 * Source: PNG 3rd edition, 11.3.2.1 and 11.3.2.2.
 */
export function profileOfChunks(
  gamma: number | null,
  primaries: StatedPrimaries | null,
): MatrixProfile | null {
  const light = gamma === null ? decodeTransfer : (code: number) => code ** (1 / gamma)
  return profileOf(primaries ?? SRGB_PRIMARIES, light)
}

function profileOf(
  { white, red, green, blue }: StatedPrimaries,
  light: (code: number) => number,
): MatrixProfile | null {
  const toXyz = multiply(bradford(white, WHITE_D65), xyzFromRgbMatrix(red, green, blue, white))
  const toP3 = multiply(P3_FROM_XYZ, toXyz)
  const curve = Float64Array.from({ length: CURVE_STEPS }, (_, i) => light(i / (CURVE_STEPS - 1)))
  const sound = [...toP3.flat(), ...curve].every(Number.isFinite)
  return sound ? { toP3, curves: [curve, curve, curve] } : null
}
