import { diagonal, invert, type Matrix3, multiply, type Triple } from '../../numerics/matrix3.ts'
import { FACT_TAGS, factsFromTags } from '../files/exif.ts'
import type { Orientation } from '../files/exif-orientation.ts'
import { fileKind, isBigTiff } from '../files/file-kind.ts'
import type { PhotoFacts } from '../files/photo-facts.ts'
import { PhotoRefused } from '../files/photo-refusal.ts'
import { checkSize } from '../files/photo-size.ts'
import {
  DNG_VERSION,
  numbersOf,
  readTiffDirectories,
  type TiffDirectory,
} from '../files/tiff-directories.ts'
import { followsTone } from './tone-opcodes.ts'

const TAG = {
  width: 256,
  height: 257,
  bitsPerSample: 258,
  compression: 259,
  photometric: 262,
  stripOffsets: 273,
  orientation: 274,
  samplesPerPixel: 277,
  stripByteCounts: 279,
  tileOffsets: 324,
  tileByteCounts: 325,
  linearization: 50712,
  opcodes: 51009,
  cfaRepeat: 33421,
  cfaPattern: 33422,
  blackRepeat: 50713,
  blackLevel: 50714,
  blackDeltaH: 50715,
  blackDeltaV: 50716,
  whiteLevel: 50717,
  colorMatrix1: 50721,
  colorMatrix2: 50722,
  calibration1: 50723,
  calibration2: 50724,
  analogBalance: 50727,
  asShotNeutral: 50728,
  illuminant1: 50778,
  illuminant2: 50779,
  activeArea: 50829,
} as const

const LOSSY_JPEG = 34892
const JPEG_XL = 52546
/** None, lossless JPEG, lossy JPEG: what the decoder can undo. */
const COMPRESSIONS = [1, 7, LOSSY_JPEG]
/** Lossy samples of 8 bits come out of the decoder on 16: codes of 255 as 65535. */
const LOSSY_STRETCH = 257
const CFA = 32803
const LINEAR_RAW = 34892
/** EXIF LightSource codes of daylights: D65, daylight, cloudy, shade, D55, D75, D50. */
const DAYLIGHTS = [21, 1, 10, 11, 20, 22, 23]

/** What a DNG says about its raw picture. */
export interface DngHeader {
  /** Samples as stored, the masked border included. */
  readonly rawWidth: number
  readonly rawHeight: number
  /** The lit part. */
  readonly active: {
    readonly left: number
    readonly top: number
    readonly right: number
    readonly bottom: number
  }
  /** `bayer`: one sample a pixel in a 2x2 pattern. `linear`: three samples a pixel. */
  readonly layout: 'bayer' | 'linear'
  /** Channel (0 R, 1 G, 2 B) of the four places of the pattern, from the corner of {@link active}. */
  readonly pattern: readonly [number, number, number, number]
  /** Black level of the places of the pattern (bayer), or of the three channels (linear). */
  readonly black: readonly number[]
  readonly white: readonly number[]
  readonly orientation: Orientation
  /** Camera channels -> XYZ, for daylight; scale without meaning. Null where the file has no matrix. */
  readonly cameraToXyz: Matrix3 | null
  /** Camera channels of a neutral surface in the light of the photo, as the camera judged it. */
  readonly asShotNeutral: Triple | null
  readonly facts: PhotoFacts
}

/**
 * Reads and checks the directories of a DNG, before any decoder is loaded.
 *
 * @param bytes the whole file
 * @throws PhotoRefused on what is no DNG, cut off, too large, or laid out in a way that is not read
 * Source: DNG 1.7, chapters 4 (tags) and 6 (mapping camera colour space to CIE XYZ).
 */
export function readDngHeader(bytes: Uint8Array): DngHeader {
  if (bytes.length === 0) throw new PhotoRefused({ code: 'empty file' })
  const kind = fileKind(bytes)
  if (isBigTiff(bytes)) refuseLayout()
  if (kind !== 'tiff') throw new PhotoRefused({ code: 'not a photo', kind })
  try {
    return headerFrom(bytes)
  } catch (error) {
    if (error instanceof RangeError) {
      throw new PhotoRefused({ code: 'truncated', kind, bytes: bytes.length })
    }
    throw error
  }
}

function headerFrom(bytes: Uint8Array): DngHeader {
  const tags = [...Object.values(TAG), ...FACT_TAGS, DNG_VERSION]
  const { pictures, exif } = readTiffDirectories(bytes, tags)
  const main = pictures[0]
  if (!pictures.some((d) => d.has(DNG_VERSION))) {
    throw new PhotoRefused({ code: 'foreign raw', reason: 'no dng' })
  }
  const area = (d: TiffDirectory) => (first(d, TAG.width) ?? 0) * (first(d, TAG.height) ?? 0)
  const raw = pictures
    .filter((d) => [CFA, LINEAR_RAW].includes(first(d, TAG.photometric) ?? 0))
    .sort((a, b) => area(b) - area(a))[0]
  if (main === undefined || raw === undefined) return refuseLayout()

  const rawWidth = first(raw, TAG.width) ?? 0
  const rawHeight = first(raw, TAG.height) ?? 0
  checkSize(rawWidth, rawHeight)
  if (endOfData(raw) > bytes.length) throw new RangeError('samples beyond the end')
  const compression = first(raw, TAG.compression) ?? 1
  if (compression === JPEG_XL) throw new PhotoRefused({ code: 'foreign raw', reason: 'jpeg xl' })
  if (!COMPRESSIONS.includes(compression)) {
    throw new PhotoRefused({ code: 'foreign raw', reason: 'compression' })
  }
  const lossy = compression === LOSSY_JPEG
  // LibRaw follows the table of a lossless picture, and the opcodes of a lossy one.
  const table = lossy && raw.has(TAG.linearization)
  if (table || !followsTone(numbersOf(raw, TAG.opcodes), lossy)) {
    throw new PhotoRefused({ code: 'foreign raw', reason: 'tone' })
  }
  const layout = layoutOf(raw)
  const [top, left, bottom, right] = [
    ...numbersOf(raw, TAG.activeArea),
    ...[0, 0, rawHeight, rawWidth].slice(numbersOf(raw, TAG.activeArea).length),
  ] as [number, number, number, number]
  if (!(left >= 0 && top >= 0 && right <= rawWidth && bottom <= rawHeight)) refuseLayout()
  if (right - left < 2 || bottom - top < 2) refuseLayout()

  const { black, white } = levelsOf(raw, layout)
  const colour = (tag: number) => numbersOf(main, tag)
  const neutral = colour(TAG.asShotNeutral)
  const orientation = first(main, TAG.orientation) ?? 1
  return {
    rawWidth,
    rawHeight,
    active: { left, top, right, bottom },
    layout,
    pattern: layout === 'bayer' ? patternOf(raw) : [0, 1, 2, 1],
    black,
    white,
    orientation: (orientation >= 1 && orientation <= 8 ? orientation : 1) as Orientation,
    cameraToXyz: cameraToXyz(main),
    asShotNeutral:
      neutral.length === 3 && neutral.every((v) => v > 0 && v < 100)
        ? (neutral as unknown as Triple)
        : null,
    facts: factsFromTags((tag) => main.get(tag) ?? exif.get(tag)),
  }
}

function refuseLayout(): never {
  throw new PhotoRefused({ code: 'foreign raw', reason: 'layout' })
}

const first = (directory: TiffDirectory, tag: number): number | undefined =>
  numbersOf(directory, tag)[0]

function layoutOf(raw: TiffDirectory): 'bayer' | 'linear' {
  const samples = first(raw, TAG.samplesPerPixel) ?? 1
  if (first(raw, TAG.photometric) === LINEAR_RAW) return samples === 3 ? 'linear' : refuseLayout()
  const [rows, columns] = numbersOf(raw, TAG.cfaRepeat)
  return samples === 1 && rows === 2 && columns === 2 ? 'bayer' : refuseLayout()
}

function patternOf(raw: TiffDirectory): DngHeader['pattern'] {
  const pattern = numbersOf(raw, TAG.cfaPattern)
  const count = (channel: number) => pattern.filter((v) => v === channel).length
  const isBayer = pattern.length === 4 && count(0) === 1 && count(1) === 2 && count(2) === 1
  return isBayer ? (pattern as unknown as DngHeader['pattern']) : refuseLayout()
}

/** Black and white levels by place; row and column deltas would need levels of their own. */
function levelsOf(raw: TiffDirectory, layout: 'bayer' | 'linear') {
  const moves = (tag: number) => numbersOf(raw, tag).some((v) => v !== 0)
  if (moves(TAG.blackDeltaH) || moves(TAG.blackDeltaV)) refuseLayout()
  const places = layout === 'bayer' ? 4 : 3
  const given = numbersOf(raw, TAG.blackLevel)
  const [rows = 1, columns = 1] = numbersOf(raw, TAG.blackRepeat)
  const black = Array.from({ length: places }, (_, place) => {
    if (given.length === 0) return 0
    if (given.length === 1) return given[0]!
    // Rows, columns, samples, in this order (DNG 1.7, BlackLevel).
    if (layout === 'linear') return rows * columns === 1 ? given[place]! : refuseLayout()
    if (rows > 2 || columns > 2) refuseLayout()
    return given[((place >> 1) % rows) * columns + ((place & 1) % columns)]!
  })
  const whites = numbersOf(raw, TAG.whiteLevel)
  const bits = first(raw, TAG.bitsPerSample) ?? 16
  // Where nothing is stated: the top code (DNG 1.7, WhiteLevel).
  const top = 2 ** Math.min(bits, 16) - 1
  const white = Array.from({ length: places }, (_, place) =>
    whites.length === 3 && layout === 'linear' ? whites[place]! : (whites[0] ?? top),
  )
  if (first(raw, TAG.compression) === LOSSY_JPEG && bits <= 8) {
    for (let place = 0; place < places; place++) {
      black[place]! *= LOSSY_STRETCH
      white[place]! *= LOSSY_STRETCH
    }
  }
  const sound = (v: number) => Number.isFinite(v) && v >= 0 && v <= 65535
  if (![...black, ...white].every(sound)) refuseLayout()
  if (white.some((w, i) => w - black[i]! < 100)) refuseLayout()
  return { black, white }
}

/** The inverse of AnalogBalance x CameraCalibration x ColorMatrix, of the light nearest to daylight. */
function cameraToXyz(main: TiffDirectory): Matrix3 | null {
  const rank = (tag: number) => {
    const at = DAYLIGHTS.indexOf(first(main, tag) ?? 0)
    return at < 0 ? DAYLIGHTS.length : at
  }
  const hasTwo = numbersOf(main, TAG.colorMatrix2).length === 9
  const second = hasTwo && rank(TAG.illuminant2) < rank(TAG.illuminant1)
  const colour = matrixFrom(numbersOf(main, second ? TAG.colorMatrix2 : TAG.colorMatrix1))
  if (colour === null) return null
  const unit = diagonal([1, 1, 1])
  const calibration =
    matrixFrom(numbersOf(main, second ? TAG.calibration2 : TAG.calibration1)) ?? unit
  const balance = numbersOf(main, TAG.analogBalance)
  const analog = balance.length === 3 ? diagonal(balance as unknown as Triple) : unit
  const inverse = invert(multiply(analog, multiply(calibration, colour)))
  return inverse.flat().every(Number.isFinite) ? inverse : null
}

function matrixFrom(v: readonly number[]): Matrix3 | null {
  if (v.length !== 9 || !v.every(Number.isFinite)) return null
  const row = (i: number): Triple => [v[i]!, v[i + 1]!, v[i + 2]!]
  return [row(0), row(3), row(6)]
}

function endOfData(directory: TiffDirectory): number {
  const end = (offsets: readonly number[], counts: readonly number[]) =>
    offsets.reduce((last, offset, i) => Math.max(last, offset + (counts[i] ?? 0)), 0)
  return Math.max(
    end(numbersOf(directory, TAG.stripOffsets), numbersOf(directory, TAG.stripByteCounts)),
    end(numbersOf(directory, TAG.tileOffsets), numbersOf(directory, TAG.tileByteCounts)),
  )
}
