import {
  diagonal,
  invert,
  type Matrix3,
  multiply,
  type Triple,
  transform,
} from '../numerics/matrix3.ts'
import { type Xy, xyzFromXy } from './chromaticity.ts'

/** White of both spaces: D65 as IEC 61966-2-1 rounds it. */
export const WHITE_D65: Xy = { x: 0.3127, y: 0.329 }

/**
 * Matrix from linear RGB to XYZ that sends the primaries to their chromaticities and [1, 1, 1] to
 * white at Y = 1.
 *
 * Source: SMPTE RP 177-1993.
 */
export function xyzFromRgbMatrix(red: Xy, green: Xy, blue: Xy, white: Xy): Matrix3 {
  const [r, g, b] = [xyzFromXy(red), xyzFromXy(green), xyzFromXy(blue)]
  const primaries: Matrix3 = [
    [r[0], g[0], b[0]],
    [r[1], g[1], b[1]],
    [r[2], g[2], b[2]],
  ]
  return multiply(primaries, diagonal(transform(invert(primaries), xyzFromXy(white))))
}

/** Linear sRGB to XYZ, Y = 1 at white. Primaries: IEC 61966-2-1:1999 (ITU-R BT.709). */
export const XYZ_FROM_SRGB: Matrix3 = xyzFromRgbMatrix(
  { x: 0.64, y: 0.33 },
  { x: 0.3, y: 0.6 },
  { x: 0.15, y: 0.06 },
  WHITE_D65,
)
export const SRGB_FROM_XYZ: Matrix3 = invert(XYZ_FROM_SRGB)

/**
 * Linear Display P3 to XYZ, Y = 1 at white. Primaries: SMPTE EG 432-1 (P3); with D65 white and the
 * sRGB transfer they make the Display P3 of the ICC registry.
 */
export const XYZ_FROM_P3: Matrix3 = xyzFromRgbMatrix(
  { x: 0.68, y: 0.32 },
  { x: 0.265, y: 0.69 },
  { x: 0.15, y: 0.06 },
  WHITE_D65,
)
export const P3_FROM_XYZ: Matrix3 = invert(XYZ_FROM_P3)

export const SRGB_FROM_P3: Matrix3 = multiply(SRGB_FROM_XYZ, XYZ_FROM_P3)
export const P3_FROM_SRGB: Matrix3 = multiply(P3_FROM_XYZ, XYZ_FROM_SRGB)

/** Linear RGB, 1 = white, to XYZ with Y = 1 at white. Colours outside the gamut have negatives. */
export const xyzFromLinearSrgb = (rgb: Triple): Triple => transform(XYZ_FROM_SRGB, rgb)
export const linearSrgbFromXyz = (xyz: Triple): Triple => transform(SRGB_FROM_XYZ, xyz)
export const xyzFromLinearP3 = (rgb: Triple): Triple => transform(XYZ_FROM_P3, rgb)
export const linearP3FromXyz = (xyz: Triple): Triple => transform(P3_FROM_XYZ, xyz)
export const linearSrgbFromP3 = (rgb: Triple): Triple => transform(SRGB_FROM_P3, rgb)
export const linearP3FromSrgb = (rgb: Triple): Triple => transform(P3_FROM_SRGB, rgb)

/**
 * Where the two branches of the transfer function meet, in codes. The standard rounds it
 * separately on the linear side (0.0031308); dividing instead keeps encode and decode inverse.
 */
const KNEE_CODE = 0.04045
const KNEE_LINEAR = KNEE_CODE / 12.92

/**
 * Stored code to linear light, of sRGB and Display P3 alike.
 *
 * @param code 0..1; negative codes mirror, codes above 1 follow the same power
 * Source: IEC 61966-2-1:1999; the extension to negatives is that of CSS Color 4.
 */
export function decodeTransfer(code: number): number {
  const size = Math.abs(code)
  if (size <= KNEE_CODE) return code / 12.92
  return Math.sign(code) * ((size + 0.055) / 1.055) ** 2.4
}

/** Linear light to stored code: the inverse of {@link decodeTransfer}. */
export function encodeTransfer(linear: number): number {
  const size = Math.abs(linear)
  if (size <= KNEE_LINEAR) return linear * 12.92
  return Math.sign(linear) * (1.055 * size ** (1 / 2.4) - 0.055)
}

export const decodeRgb = ([r, g, b]: Triple): Triple => [
  decodeTransfer(r),
  decodeTransfer(g),
  decodeTransfer(b),
]

/** Inverse of {@link decodeRgb}. */
export const encodeRgb = ([r, g, b]: Triple): Triple => [
  encodeTransfer(r),
  encodeTransfer(g),
  encodeTransfer(b),
]
