import { viewOf } from './bytes.ts'

export interface TiffHeader {
  /** DNG by its version tag. */
  readonly isDng: boolean
  /** Largest picture among the directories: the raw one of a DNG. Pixels; 0 where none is stated. */
  readonly width: number
  readonly height: number
  /** Photometric interpretation of that picture: 32803 colour filter array, 34892 linear raw. */
  readonly photometric: number
  readonly samplesPerPixel: number
  /** Bytes of file that the largest picture's strips or tiles need, at least. */
  readonly neededBytes: number
  /** Exposure settings of the EXIF directory. */
  readonly exposureSeconds: number | null
  readonly fNumber: number | null
  readonly iso: number | null
}

const TAG = {
  width: 256,
  height: 257,
  photometric: 262,
  stripOffsets: 273,
  samplesPerPixel: 277,
  stripByteCounts: 279,
  tileOffsets: 324,
  tileByteCounts: 325,
  subDirectories: 330,
  exposureTime: 33434,
  fNumber: 33437,
  exifDirectory: 34665,
  iso: 34855,
  dngVersion: 50706,
} as const

/** Bytes of one value by TIFF type; 0 for types that are not read. */
const TYPE_BYTES = [0, 1, 1, 2, 4, 8, 1, 1, 2, 4, 8, 4, 8, 4]
/** A file has a handful of directories; loops and bombs end here. */
const MAX_DIRECTORIES = 20
const MAX_VALUES = 100_000

type Directory = Map<number, number[]>

/**
 * Reads the directories of a TIFF or DNG without decoding a pixel.
 *
 * @param bytes the whole file
 * @throws RangeError where a directory lies beyond the end of the file
 * Sources: TIFF 6.0 section 2, DNG 1.7 chapter 4, Exif 2.32 4.6.
 */
export function readTiffHeader(bytes: Uint8Array): TiffHeader {
  const view = viewOf(bytes)
  const little = view.getUint8(0) === 0x49
  const directories: Directory[] = []
  const waiting = [view.getUint32(4, little)]
  const seen = new Set<number>()
  let exifAt = 0
  for (let at = waiting.shift(); at !== undefined; at = waiting.shift()) {
    if (at === 0 || seen.has(at) || seen.size >= MAX_DIRECTORIES) continue
    seen.add(at)
    const { directory, next } = readDirectory(view, at, little)
    directories.push(directory)
    waiting.push(next, ...(directory.get(TAG.subDirectories) ?? []))
    exifAt ||= directory.get(TAG.exifDirectory)?.[0] ?? 0
  }
  const exif: Directory = exifAt > 0 ? readDirectory(view, exifAt, little).directory : new Map()
  const first = (directory: Directory | undefined, tag: number) => directory?.get(tag)?.[0] ?? 0
  const area = (d: Directory) => first(d, TAG.width) * first(d, TAG.height)
  const largest = [...directories].sort((a, b) => area(b) - area(a))[0]
  const photometric = first(largest, TAG.photometric)

  return {
    isDng: directories.some((directory) => directory.has(TAG.dngVersion)),
    width: first(largest, TAG.width),
    height: first(largest, TAG.height),
    photometric,
    samplesPerPixel: first(largest, TAG.samplesPerPixel) || 1,
    neededBytes: largest === undefined ? 0 : endOfData(largest),
    exposureSeconds: exif.get(TAG.exposureTime)?.[0] ?? null,
    fNumber: exif.get(TAG.fNumber)?.[0] ?? null,
    iso: exif.get(TAG.iso)?.[0] ?? null,
  }
}

function endOfData(directory: Directory): number {
  const end = (offsets: number[] = [], counts: number[] = []) =>
    offsets.reduce((last, offset, i) => Math.max(last, offset + (counts[i] ?? 0)), 0)
  return Math.max(
    end(directory.get(TAG.stripOffsets), directory.get(TAG.stripByteCounts)),
    end(directory.get(TAG.tileOffsets), directory.get(TAG.tileByteCounts)),
  )
}

function readDirectory(view: DataView, start: number, little: boolean) {
  const directory: Directory = new Map()
  const count = view.getUint16(start, little)
  for (let i = 0; i < count; i++) {
    const at = start + 2 + 12 * i
    const tag = view.getUint16(at, little)
    const type = view.getUint16(at + 2, little)
    const values = view.getUint32(at + 4, little)
    const size = TYPE_BYTES[type] ?? 0
    if (size === 0 || values > MAX_VALUES) continue
    const from = size * values <= 4 ? at + 8 : view.getUint32(at + 8, little)
    // Maker's notes and the like may point anywhere: only what is used must lie in the file.
    if (from + size * values > view.byteLength && !isUsed(tag)) continue
    directory.set(
      tag,
      isUsed(tag)
        ? Array.from({ length: values }, (_, k) => readValue(view, from + size * k, type, little))
        : [],
    )
  }
  const nextAt = start + 2 + 12 * count
  return { directory, next: nextAt + 4 <= view.byteLength ? view.getUint32(nextAt, little) : 0 }
}

const USED = new Set<number>(Object.values(TAG))
const isUsed = (tag: number) => USED.has(tag)

function readValue(view: DataView, at: number, type: number, little: boolean): number {
  switch (type) {
    case 3:
    case 8:
      return view.getUint16(at, little)
    case 4:
    case 9:
    case 13:
      return view.getUint32(at, little)
    case 5:
      return view.getUint32(at, little) / view.getUint32(at + 4, little)
    case 10:
      return view.getInt32(at, little) / view.getInt32(at + 4, little)
    default:
      return view.getUint8(at)
  }
}
