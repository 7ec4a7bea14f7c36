import type { Matrix3, Triple } from '../../src/numerics/matrix3.ts'
import { type TiffField, writeTiff } from './write-tiff.ts'

export interface DngOptions {
  readonly width: number
  readonly height: number
  /** One sample a pixel (Bayer), or three (linear). */
  readonly samples: Uint16Array
  readonly layout?: 'bayer' | 'linear'
  /** Channels of the 2x2 pattern: 0 R, 1 G, 2 B. */
  readonly pattern?: readonly [number, number, number, number]
  /** One level, or one for each place of the pattern. */
  readonly black: readonly number[]
  /** Null: not stated. */
  readonly white: number | null
  readonly bits?: number
  readonly compression?: number
  /** XYZ -> camera channels, and the EXIF light source it is for; D65 (21) unless stated. */
  readonly colorMatrix: Matrix3 | null
  readonly illuminant?: number
  readonly asShotNeutral: Triple
  /** Stands in the file instead of the samples: the samples as a lossless JPEG. */
  readonly compressed?: Uint8Array
  /** Top, left, bottom, right of the lit part. */
  readonly activeArea?: readonly [number, number, number, number]
  readonly orientation?: number
  readonly exif?: readonly TiffField[]
  /** Further fields of the main directory. */
  readonly more?: readonly TiffField[]
}

/**
 * A 16-bit DNG of one strip, for practice material and tests.
 *
 * Source: DNG 1.7, chapters 2 to 4.
 */
export function writeDng(options: DngOptions): Uint8Array<ArrayBuffer> {
  const { width, height, samples, black, white, layout = 'bayer' } = options
  const bayer = layout === 'bayer'
  const channels = bayer ? 1 : 3
  const field = (tag: number, type: TiffField['type'], values: TiffField['values']): TiffField => ({
    tag,
    type,
    values,
  })
  const main = [
    field(254, 'long', [0]),
    field(256, 'long', [width]),
    field(257, 'long', [height]),
    field(258, 'short', new Array(channels).fill(options.bits ?? 16)),
    field(259, 'short', [options.compression ?? (options.compressed ? 7 : 1)]),
    field(262, 'short', [bayer ? 32803 : 34892]),
    field(270, 'ascii', 'Simulated by Glowbook. No photograph.'),
    field(271, 'ascii', 'Simulated'),
    field(272, 'ascii', 'Practice camera'),
    field(274, 'short', [options.orientation ?? 1]),
    field(277, 'short', [channels]),
    field(278, 'long', [height]),
    field(284, 'short', [1]),
    field(305, 'ascii', 'Glowbook practice bench'),
    field(50706, 'byte', [1, 4, 0, 0]),
    field(50707, 'byte', [1, 1, 0, 0]),
    field(50708, 'ascii', 'Simulated Practice camera'),
    field(50713, 'short', bayer && black.length === 4 ? [2, 2] : [1, 1]),
    field(50714, 'short', black),
    field(50728, 'rational', options.asShotNeutral),
    field(50778, 'short', [options.illuminant ?? 21]),
  ]
  if (white !== null) main.push(field(50717, 'long', bayer ? [white] : [white, white, white]))
  if (options.colorMatrix) main.push(field(50721, 'srational', options.colorMatrix.flat()))
  if (bayer) {
    main.push(field(33421, 'short', [2, 2]))
    main.push(field(33422, 'byte', options.pattern ?? [0, 1, 1, 2]))
  }
  if (options.activeArea) main.push(field(50829, 'long', options.activeArea))
  return writeTiff({
    main: [...main, ...(options.more ?? [])],
    ...(options.exif ? { exif: options.exif } : {}),
    pixels:
      options.compressed ?? new Uint8Array(samples.buffer, samples.byteOffset, samples.byteLength),
  })
}
