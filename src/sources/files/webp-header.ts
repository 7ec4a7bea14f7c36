import { ascii, viewOf } from './bytes.ts'
import type { Subsampling } from './jpeg-header.ts'

export interface WebpHeader {
  readonly width: number
  readonly height: number
  readonly animated: boolean
  /** Lossy WebP always halves the colour channels. */
  readonly subsampling: Subsampling
  readonly iccProfile: Uint8Array | null
  readonly exif: Uint8Array | null
  readonly complete: boolean
}

/**
 * Reads the chunks of a WebP file without decoding a pixel.
 *
 * @param bytes the whole file
 * Source: RFC 9649, 2 (container), 2.7.1 (VP8X), RFC 6386 9.1 (VP8 frame header).
 */
export function readWebpHeader(bytes: Uint8Array): WebpHeader {
  const view = viewOf(bytes)
  const found = {
    width: 0,
    height: 0,
    animated: false,
    subsampling: '4:2:0' as Subsampling,
    iccProfile: null as Uint8Array | null,
    exif: null as Uint8Array | null,
    complete: bytes.length >= 12 && view.getUint32(4, true) + 8 <= bytes.length,
  }
  for (let at = 12; at + 8 <= bytes.length; ) {
    const type = ascii(bytes, at, 4)
    const length = view.getUint32(at + 4, true)
    const start = at + 8
    if (type === 'VP8X') {
      found.animated = (view.getUint8(start) & 2) !== 0
      found.width = 1 + (view.getUint32(start + 4, true) & 0xffffff)
      found.height = 1 + (view.getUint32(start + 6, true) >>> 8)
    } else if (type === 'VP8 ' && found.width === 0) {
      found.width = view.getUint16(start + 6, true) & 0x3fff
      found.height = view.getUint16(start + 8, true) & 0x3fff
    } else if (type === 'VP8L') {
      found.subsampling = '4:4:4'
      if (found.width === 0) {
        const packed = view.getUint32(start + 1, true)
        found.width = 1 + (packed & 0x3fff)
        found.height = 1 + ((packed >>> 14) & 0x3fff)
      }
    } else if (type === 'ICCP') {
      found.iccProfile = bytes.subarray(start, start + length)
    } else if (type === 'EXIF') {
      found.exif = bytes.subarray(start, start + length)
    }
    at = start + length + (length & 1)
  }
  return found
}
