import type { Triple } from '../numerics/matrix3.ts'

/** RGB spaces in which ordinary photos are stored. */
export type RgbSpace = 'srgb' | 'display-p3'

/**
 * A picture as its file stores it: codes in the file's own RGB space, before any decoding.
 * Clipping and tone curves act here, so both are judged here and not after a conversion.
 */
export interface StoredImage {
  readonly width: number
  readonly height: number
  readonly space: RgbSpace
  /** RGB interleaved, row by row, 0..1 (code / top code). */
  readonly codes: Float32Array
}

/** Channels in which linear light is given: Display P3, or the camera's own (raw, not balanced). */
export type Channels = 'display-p3' | 'camera'

/** Pixel flags of a {@link LightImage}: any channel at the top, any channel at 0. */
export const CLIPPED = 1
export const FLOOR = 2
/** Which channel of the file is at 0; comes along with FLOOR. */
export const FLOOR_RED = 4
export const FLOOR_GREEN = 8
export const FLOOR_BLUE = 16

/** A picture in linear light. */
export interface LightImage {
  readonly width: number
  readonly height: number
  readonly channels: Channels
  /** RGB interleaved, linear, 1 = the top of the range; may be negative outside the gamut. */
  readonly rgb: Float32Array
  /** One byte a pixel, bits CLIPPED, FLOOR, FLOOR_RED, FLOOR_GREEN, FLOOR_BLUE. */
  readonly flags: Uint8Array
}

/** A region of a picture in its pixels; an ellipse is inscribed in the same box. */
export interface Region {
  readonly shape: 'rectangle' | 'ellipse'
  /** Left and top edge, pixels, may be fractional. */
  readonly x: number
  readonly y: number
  readonly width: number
  readonly height: number
}

/** A mean colour in linear light with the covariance of that mean. */
export interface LinearColour {
  readonly mean: Triple
  readonly covariance: readonly [Triple, Triple, Triple]
}
