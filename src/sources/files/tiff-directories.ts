import { ascii, viewOf } from './bytes.ts'

/** The fields of a directory that were asked for: numbers, or text as one string. */
export type TiffDirectory = ReadonlyMap<number, readonly number[] | string>

/** Tells a DNG from other TIFF files (DNG 1.7, chapter 4). */
export const DNG_VERSION = 50706

const SUB_DIRECTORIES = 330
const EXIF_DIRECTORY = 34665

/** Bytes of one value by TIFF type; 0 for types that are not read. */
const TYPE_BYTES = [0, 1, 1, 2, 4, 8, 1, 1, 2, 4, 8, 4, 8, 4]
/** A file has a handful of directories; loops and bombs end here. */
const MAX_DIRECTORIES = 20
const MAX_VALUES = 100_000
const MAX_TEXT = 200

/**
 * Reads the asked-for fields of all directories of a TIFF (DNG, EXIF block) without decoding a pixel.
 *
 * @param bytes the whole file
 * @param tags which fields; all others are passed over unread
 * @returns picture directories (the main one first, then linked and nested ones) and the EXIF one
 * @throws RangeError where a directory or an asked-for field lies beyond the end of the file
 * Sources: TIFF 6.0 section 2, DNG 1.7 chapter 2 (SubIFDs), Exif 2.32 4.6.3.
 */
export function readTiffDirectories(
  bytes: Uint8Array,
  tags: readonly number[],
): { readonly pictures: readonly TiffDirectory[]; readonly exif: TiffDirectory } {
  const view = viewOf(bytes)
  const little = view.getUint8(0) === 0x49
  const wanted = new Set([...tags, SUB_DIRECTORIES, EXIF_DIRECTORY])
  const pictures: TiffDirectory[] = []
  const waiting = [view.getUint32(4, little)]
  const seen = new Set<number>()
  let exifAt = 0
  for (let at = waiting.shift(); at !== undefined; at = waiting.shift()) {
    if (at === 0 || seen.has(at) || seen.size >= MAX_DIRECTORIES) continue
    seen.add(at)
    const { directory, next } = readDirectory(bytes, at, little, wanted)
    pictures.push(directory)
    waiting.push(...numbersOf(directory, SUB_DIRECTORIES), next)
    exifAt ||= numbersOf(directory, EXIF_DIRECTORY)[0] ?? 0
  }
  const exif =
    exifAt > 0 ? readDirectory(bytes, exifAt, little, wanted).directory : new Map<number, never>()
  return { pictures, exif }
}

/** The numbers of a field; none where it is missing or text. */
export function numbersOf(directory: TiffDirectory | undefined, tag: number): readonly number[] {
  const value = directory?.get(tag)
  return value === undefined || typeof value === 'string' ? [] : value
}

function readDirectory(bytes: Uint8Array, start: number, little: boolean, wanted: Set<number>) {
  const view = viewOf(bytes)
  const directory = new Map<number, readonly number[] | string>()
  const count = view.getUint16(start, little)
  for (let i = 0; i < count; i++) {
    const at = start + 2 + 12 * i
    const tag = view.getUint16(at, little)
    const type = view.getUint16(at + 2, little)
    const values = view.getUint32(at + 4, little)
    const size = TYPE_BYTES[type] ?? 0
    if (!wanted.has(tag) || size === 0 || values > MAX_VALUES) continue
    const from = size * values <= 4 ? at + 8 : view.getUint32(at + 8, little)
    if (type === 2) {
      directory.set(tag, ascii(bytes, from, Math.min(values, MAX_TEXT)).replace(/\0.*$/s, ''))
    } else {
      directory.set(
        tag,
        Array.from({ length: values }, (_, k) => readValue(view, from + size * k, type, little)),
      )
    }
  }
  const nextAt = start + 2 + 12 * count
  return { directory, next: nextAt + 4 <= view.byteLength ? view.getUint32(nextAt, little) : 0 }
}

function readValue(view: DataView, at: number, type: number, little: boolean): number {
  switch (type) {
    case 3:
      return view.getUint16(at, little)
    case 4:
    case 13:
      return view.getUint32(at, little)
    case 5:
      return view.getUint32(at, little) / view.getUint32(at + 4, little)
    case 6:
      return view.getInt8(at)
    case 8:
      return view.getInt16(at, little)
    case 9:
      return view.getInt32(at, little)
    case 10:
      return view.getInt32(at, little) / view.getInt32(at + 4, little)
    case 11:
      return view.getFloat32(at, little)
    case 12:
      return view.getFloat64(at, little)
    default:
      return view.getUint8(at)
  }
}
