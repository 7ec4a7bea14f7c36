import { decodeTransfer, P3_FROM_SRGB } from '../colour/rgb-spaces.ts'
import type { Triple } from '../numerics/matrix3.ts'
import { type ClippingLevels, clippingLevels } from './clipping-level.ts'
import {
  CLIPPED,
  FLOOR,
  FLOOR_BLUE,
  FLOOR_GREEN,
  FLOOR_RED,
  type LightImage,
  type StoredImage,
} from './image.ts'

/** A code counts as at the floor when it rounds to the 8-bit code 0. */
const FLOOR_CODE = 0.5 / 255

/** The transfer function at the 256 codes of an ordinary photo. */
const DECODED = Float64Array.from({ length: 256 }, (_, code) => decodeTransfer(code / 255))

/** {@link decodeTransfer}, from the table where the code is an 8-bit one. */
export function decodeCode(code: number): number {
  const byte = (code * 255 + 0.5) | 0
  if (Math.abs(code * 255 - byte) < 1e-4) {
    const tabled = DECODED[byte]
    if (tabled !== undefined) return tabled
  }
  return decodeTransfer(code)
}

/** {@link decodeTransfer} of the nearest 8-bit code: fast, for looking rather than measuring. */
export function decodeByte(code: number): number {
  return DECODED[(code * 255 + 0.5) | 0] ?? 1
}

/**
 * Decodes a photo into linear Display P3 with the standard transfer function.
 *
 * What this undoes is the curve that the file's colour space states. A camera's own tone curve on
 * top of it (contrast, shoulder) stays in: see exposure-sweep and tone-curve-prior.
 * sRGB photos are decoded, then carried to P3 by the matrix, so their colours stay where they are.
 * Flags are set in the file's own space: there the camera clipped and cut.
 *
 * @param image codes 0..1; floor is the 8-bit code 0 (below 0.5/255)
 * @param levels codes from which a channel counts as clipped; by default found in the picture
 * @returns linear P3, 1 = top code; negative values do not occur (both inputs are in gamut)
 */
export function toLinearLight(
  image: StoredImage,
  levels: ClippingLevels = clippingLevels(image),
): LightImage {
  return lightImage(image, levels, (r, g, b, out) => {
    out[0] = decodeCode(r)
    out[1] = decodeCode(g)
    out[2] = decodeCode(b)
  })
}

/** Likewise, but left in the space of the file. */
export const ownLight = (image: StoredImage, levels: ClippingLevels): LightImage =>
  toLinearLight({ ...image, space: 'display-p3' }, levels)

/** Linear light in the file's own space of one pixel's codes, written into `out`. */
export type PixelDecoder = (r: number, g: number, b: number, out: Float64Array) => void

/** A picture decoded by any pixel decoder; see {@link toLinearLight} for flags and space. */
export function lightImage(
  image: StoredImage,
  levels: ClippingLevels,
  decode: PixelDecoder,
): LightImage {
  const { width, height, codes } = image
  const count = width * height
  const rgb = new Float32Array(3 * count)
  const flags = new Uint8Array(count)
  const [redTop, greenTop, blueTop] = levels.codes
  const [[m00, m01, m02], [m10, m11, m12], [m20, m21, m22]] = P3_FROM_SRGB
  const fromSrgb = image.space === 'srgb'
  const linear = new Float64Array(3)
  for (let p = 0, i = 0; p < count; p++, i += 3) {
    const red = codes[i]!
    const green = codes[i + 1]!
    const blue = codes[i + 2]!
    let flag = red >= redTop || green >= greenTop || blue >= blueTop ? CLIPPED : 0
    if (red < FLOOR_CODE) flag |= FLOOR | FLOOR_RED
    if (green < FLOOR_CODE) flag |= FLOOR | FLOOR_GREEN
    if (blue < FLOOR_CODE) flag |= FLOOR | FLOOR_BLUE
    flags[p] = flag
    decode(red, green, blue, linear)
    const r = linear[0]!
    const g = linear[1]!
    const b = linear[2]!
    if (fromSrgb) {
      rgb[i] = m00 * r + m01 * g + m02 * b
      rgb[i + 1] = m10 * r + m11 * g + m12 * b
      rgb[i + 2] = m20 * r + m21 * g + m22 * b
    } else {
      rgb[i] = r
      rgb[i + 1] = g
      rgb[i + 2] = b
    }
  }
  return { width, height, channels: 'display-p3', rgb, flags }
}

/** Linear Display P3 of decoded linear values in the photo's own space. */
export function linearP3Of(space: StoredImage['space'], linear: Triple): Triple {
  if (space === 'display-p3') return linear
  const [r, g, b] = linear
  const row = (m: Triple) => m[0] * r + m[1] * g + m[2] * b
  return [row(P3_FROM_SRGB[0]), row(P3_FROM_SRGB[1]), row(P3_FROM_SRGB[2])]
}

/**
 * d ln(G/R) in Display P3 over d ln(G/R) in the photo's own space, at a colour of that space: of a glow
 * in sRGB 0.6, because red gives P3's green a part.
 */
export function greenSlopeInP3(space: StoredImage['space'], linear: Triple): number {
  if (space === 'display-p3') return 1
  const [red, green] = linearP3Of(space, linear)
  const moved = linear[1]
  return (P3_FROM_SRGB[1][1] * moved) / green - (P3_FROM_SRGB[0][1] * moved) / red
}
