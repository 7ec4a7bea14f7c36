/** A field of a TIFF directory. Rationals are given as numbers and written over 1e6 or 1e3. */
export interface TiffField {
  readonly tag: number
  readonly type: 'byte' | 'ascii' | 'short' | 'long' | 'rational' | 'undefined' | 'srational'
  readonly values: string | readonly number[]
}

const TYPES = {
  byte: [1, 1],
  ascii: [2, 1],
  short: [3, 2],
  long: [4, 4],
  rational: [5, 8],
  undefined: [7, 1],
  srational: [10, 8],
} as const

const SUB_DIRECTORY = { exif: 34665, gps: 34853 } as const
const STRIP_OFFSETS = 273
const STRIP_BYTE_COUNTS = 279

/**
 * A little-endian TIFF: an EXIF block, or with pixel data an uncompressed TIFF or DNG of one strip.
 * For pictures that the project makes itself: practice photos, tests.
 *
 * @param pixels data of the single strip; its offset and length are filled in
 * Sources: TIFF 6.0 section 2; Exif 2.32 4.6.3 (pointers to the sub-directories).
 */
export function writeTiff(parts: {
  readonly main: readonly TiffField[]
  readonly exif?: readonly TiffField[]
  readonly gps?: readonly TiffField[]
  readonly pixels?: Uint8Array
}): Uint8Array<ArrayBuffer> {
  const { exif, gps, pixels } = parts
  const main: TiffField[] = [...parts.main]
  const pointer = (tag: number, at: number): TiffField => ({ tag, type: 'long', values: [at] })
  if (pixels) {
    main.push(pointer(STRIP_OFFSETS, 0), pointer(STRIP_BYTE_COUNTS, pixels.length))
  }
  if (exif) main.push(pointer(SUB_DIRECTORY.exif, 0))
  if (gps) main.push(pointer(SUB_DIRECTORY.gps, 0))
  const exifAt = 8 + sizeOf(main)
  const gpsAt = exifAt + (exif ? sizeOf(exif) : 0)
  const pixelsAt = gpsAt + (gps ? sizeOf(gps) : 0)
  const place: Record<number, number> = {
    [SUB_DIRECTORY.exif]: exifAt,
    [SUB_DIRECTORY.gps]: gpsAt,
    [STRIP_OFFSETS]: pixelsAt,
  }
  const placed = main.map((field) => {
    const at = place[field.tag]
    return at === undefined ? field : pointer(field.tag, at)
  })
  const file = new Uint8Array(pixelsAt + (pixels?.length ?? 0))
  file.set([0x49, 0x49, 42, 0, 8, 0, 0, 0])
  file.set(directory(placed, 8), 8)
  if (exif) file.set(directory(exif, exifAt), exifAt)
  if (gps) file.set(directory(gps, gpsAt), gpsAt)
  if (pixels) file.set(pixels, pixelsAt)
  return file
}

const even = (length: number) => length + (length & 1)
const headSize = (fields: readonly TiffField[]) => 2 + 12 * fields.length + 4

function bytesOf({ type, values }: TiffField): Uint8Array {
  if (typeof values === 'string') return new TextEncoder().encode(`${values}\0`)
  const size = TYPES[type][1]
  const bytes = new Uint8Array(size * values.length)
  const view = new DataView(bytes.buffer)
  values.forEach((value, i) => {
    const at = size * i
    if (size === 1) view.setUint8(at, value)
    else if (size === 2) view.setUint16(at, value, true)
    else if (size === 4) view.setUint32(at, value, true)
    else {
      const below = Math.abs(value) < 1000 ? 1_000_000 : 1000
      if (type === 'srational') view.setInt32(at, Math.round(value * below), true)
      else view.setUint32(at, Math.round(value * below), true)
      view.setUint32(at + 4, below, true)
    }
  })
  return bytes
}

const longOnes = (fields: readonly TiffField[]) =>
  fields.map(bytesOf).filter((bytes) => bytes.length > 4)

function sizeOf(fields: readonly TiffField[]): number {
  return headSize(fields) + longOnes(fields).reduce((sum, bytes) => sum + even(bytes.length), 0)
}

/** Entries in order of their tags; what does not fit into four bytes follows the entries. */
function directory(fields: readonly TiffField[], at: number): Uint8Array {
  const sorted = [...fields].sort((a, b) => a.tag - b.tag)
  const out = new Uint8Array(sizeOf(sorted))
  const view = new DataView(out.buffer)
  view.setUint16(0, sorted.length, true)
  let free = headSize(sorted)
  sorted.forEach((field, i) => {
    const entry = 2 + 12 * i
    const bytes = bytesOf(field)
    const [code, size] = TYPES[field.type]
    view.setUint16(entry, field.tag, true)
    view.setUint16(entry + 2, code, true)
    view.setUint32(entry + 4, bytes.length / size, true)
    if (bytes.length <= 4) {
      out.set(bytes, entry + 8)
    } else {
      view.setUint32(entry + 8, at + free, true)
      out.set(bytes, free)
      free += even(bytes.length)
    }
  })
  return out
}
