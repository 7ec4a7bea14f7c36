/**
 * Takes out of a picture file what is not picture: place, time, device, serial numbers, comments,
 * thumbnails of the uncropped photo. Colour stays as it was: ICC profiles and colour tags are kept.
 * Structures after ISO/IEC 10918-1 (JPEG), ISO/IEC 15948 (PNG), RFC 9649 (WebP).
 */
import type { PictureFacts } from '../schema/reading-schema.ts'

type PictureType = PictureFacts['type']

/**
 * The picture without metadata; undefined when the bytes are no picture of that type.
 * A file cut short within its pixels passes: decoders show what is there.
 */
export function withoutMetadata(
  bytes: Uint8Array,
  type: PictureType,
): Uint8Array<ArrayBuffer> | undefined {
  const kept =
    type === 'image/jpeg'
      ? jpegParts(bytes)
      : type === 'image/png'
        ? pngParts(bytes)
        : webpParts(bytes)
  if (kept === undefined) return undefined
  const joined = new Uint8Array(kept.reduce((sum, part) => sum + part.length, 0))
  let at = 0
  for (const part of kept) {
    joined.set(part, at)
    at += part.length
  }
  if (type === 'image/webp') new DataView(joined.buffer).setUint32(4, joined.length - 8, true)
  return joined
}

const ascii = (bytes: Uint8Array, from: number, length: number) =>
  String.fromCharCode(...bytes.subarray(from, from + length))

const startsWith = (bytes: Uint8Array, signature: readonly number[]) =>
  signature.every((byte, i) => bytes[i] === byte)

function jpegParts(bytes: Uint8Array): Uint8Array[] | undefined {
  if (!startsWith(bytes, [0xff, 0xd8, 0xff])) return undefined
  const kept = [bytes.subarray(0, 2)]
  for (let at = 2; at + 2 <= bytes.length; ) {
    if (bytes[at] !== 0xff) return undefined
    const marker = bytes[at + 1]!
    if (marker === 0xd9) {
      // What trails the end of image (previews, gain maps, video) is no part of the picture.
      kept.push(bytes.subarray(at, at + 2))
      return kept
    }
    if (marker === 0xff) {
      // Fill byte.
      at++
      continue
    }
    if (at + 4 > bytes.length) return undefined
    const length = (bytes[at + 2]! << 8) | bytes[at + 3]!
    const end = at + 2 + length
    if (length < 2 || end > bytes.length) return undefined
    if (marker === 0xda) {
      const next = endOfScan(bytes, end)
      kept.push(bytes.subarray(at, next))
      if (next === bytes.length) return kept
      at = next
      continue
    }
    const app = marker >= 0xe0 && marker <= 0xef
    const keep =
      !(app || marker === 0xfe) ||
      (marker === 0xe0 && ascii(bytes, at + 4, 5) === 'JFIF\0') ||
      (marker === 0xe2 && ascii(bytes, at + 4, 12) === 'ICC_PROFILE\0') ||
      (marker === 0xee && ascii(bytes, at + 4, 5) === 'Adobe')
    if (keep) kept.push(bytes.subarray(at, end))
    at = end
  }
  return undefined
}

/** Entropy-coded data end at a marker other than a stuffed zero or a restart. */
function endOfScan(bytes: Uint8Array, from: number): number {
  for (let at = from; at + 1 < bytes.length; at++) {
    if (bytes[at] !== 0xff) continue
    const next = bytes[at + 1]!
    if (next !== 0 && next !== 0xff && !(next >= 0xd0 && next <= 0xd7)) return at
  }
  return bytes.length
}

/** Everything that changes how pixels look; text, time and EXIF are not among it. */
const PNG_KEPT = new Set(
  'IHDR PLTE IDAT IEND tRNS iCCP sRGB gAMA cHRM cICP sBIT bKGD pHYs'.split(' '),
)

function pngParts(bytes: Uint8Array): Uint8Array[] | undefined {
  if (!startsWith(bytes, [0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a])) return undefined
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.length)
  const kept = [bytes.subarray(0, 8)]
  for (let at = 8; at + 12 <= bytes.length; ) {
    const name = ascii(bytes, at + 4, 4)
    const end = at + 12 + view.getUint32(at)
    if (end > bytes.length) return undefined
    if (PNG_KEPT.has(name)) kept.push(bytes.subarray(at, end))
    if (name === 'IEND') return kept
    at = end
  }
  return undefined
}

function webpParts(bytes: Uint8Array): Uint8Array[] | undefined {
  if (ascii(bytes, 0, 4) !== 'RIFF' || ascii(bytes, 8, 4) !== 'WEBP') return undefined
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.length)
  const kept = [bytes.subarray(0, 12)]
  for (let at = 12; at + 8 <= bytes.length; ) {
    const name = ascii(bytes, at, 4)
    const size = view.getUint32(at + 4, true)
    const end = at + 8 + size + (size % 2)
    if (at + 8 + size > bytes.length) return undefined
    if (name === 'VP8X' && size >= 10) {
      const header = bytes.slice(at, end)
      // RFC 9649, section 2.7: bit 3 says EXIF, bit 2 says XMP.
      header[8] = header[8]! & ~0b1100
      kept.push(header)
    } else if (['VP8 ', 'VP8L', 'ALPH', 'ICCP'].includes(name)) {
      kept.push(bytes.subarray(at, Math.min(end, bytes.length)))
    }
    at = end
  }
  return kept.length > 1 ? kept : undefined
}
