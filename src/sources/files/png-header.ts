import { Unzlib } from 'fflate'
import { ascii, viewOf } from './bytes.ts'
import { MAX_PIECES, MAX_PROFILE_BYTES, PhotoRefused } from './photo-refusal.ts'
import type { StatedPrimaries } from './stated-colours.ts'

export interface PngHeader {
  readonly width: number
  readonly height: number
  readonly bitsPerSample: number
  readonly hasColour: boolean
  readonly animated: boolean
  /** Code points of ITU-T H.273 from a cICP chunk; narrow: black and white lie within the codes. */
  readonly cicp: {
    readonly primaries: number
    readonly transfer: number
    readonly narrow: boolean
  } | null
  readonly iccProfile: Uint8Array | null
  /** An sRGB chunk stands in the file. */
  readonly statesSrgb: boolean
  /** Of a gAMA chunk: exponent from light to code. */
  readonly gamma: number | null
  /** Of a cHRM chunk, where it departs from sRGB. */
  readonly primaries: StatedPrimaries | null
  readonly exif: Uint8Array | null
  /** The IEND chunk was reached. */
  readonly complete: boolean
}

/** cHRM of sRGB as integers (PNG 3rd edition, 11.3.2.5). */
const SRGB_CHROMATICITIES = [31270, 32900, 64000, 33000, 30000, 60000, 15000, 6000]

/**
 * Reads the chunks of a PNG without decoding a pixel.
 *
 * @param bytes the whole file
 * Source: PNG 3rd edition (W3C 2025), chapter 11.
 */
export function readPngHeader(bytes: Uint8Array): PngHeader {
  const view = viewOf(bytes)
  const found = {
    width: 0,
    height: 0,
    bitsPerSample: 0,
    hasColour: true,
    animated: false,
    cicp: null as PngHeader['cicp'],
    iccProfile: null as Uint8Array | null,
    statesSrgb: false,
    gamma: null as number | null,
    primaries: null as StatedPrimaries | null,
    exif: null as Uint8Array | null,
    complete: false,
  }
  for (let at = 8, chunks = 0; at + 12 <= bytes.length; chunks++) {
    if (chunks > MAX_PIECES) throw new PhotoRefused({ code: 'damaged', kind: 'png' })
    const length = view.getUint32(at)
    const type = ascii(bytes, at + 4, 4)
    const data = bytes.subarray(at + 8, at + 8 + length)
    if (at + 12 + length > bytes.length) break
    const inside = viewOf(data)
    if (type === 'IHDR' && length >= 13) {
      found.width = inside.getUint32(0)
      found.height = inside.getUint32(4)
      found.bitsPerSample = inside.getUint8(8)
      // Colour type: bit 1 is colour; types 0 and 4 are grey.
      found.hasColour = (inside.getUint8(9) & 2) !== 0
    } else if (type === 'cICP' && length >= 4) {
      found.cicp = {
        primaries: inside.getUint8(0),
        transfer: inside.getUint8(1),
        narrow: inside.getUint8(3) === 0,
      }
    } else if (type === 'iCCP') {
      found.iccProfile = inflateProfile(data)
    } else if (type === 'sRGB') {
      found.statesSrgb = true
    } else if (type === 'gAMA' && length >= 4) {
      found.gamma = inside.getUint32(0) / 1e5
    } else if (type === 'cHRM' && length >= 32) {
      const number = (i: number) => inside.getUint32(4 * i)
      const xy = (i: number) => ({ x: number(2 * i) / 1e5, y: number(2 * i + 1) / 1e5 })
      const departs = SRGB_CHROMATICITIES.some(
        (expected, i) => Math.abs(number(i) - expected) > 200,
      )
      found.primaries = departs ? { white: xy(0), red: xy(1), green: xy(2), blue: xy(3) } : null
    } else if (type === 'eXIf') {
      found.exif = data
    } else if (type === 'acTL' && length >= 4) {
      found.animated = inside.getUint32(0) > 1
    } else if (type === 'IEND') {
      found.complete = true
      break
    }
    at += 12 + length
  }
  return found
}

/** Name, zero, method 0, zlib stream. Inflated in steps so that a bomb cannot fill the memory. */
function inflateProfile(data: Uint8Array): Uint8Array | null {
  const end = data.indexOf(0)
  if (end < 0 || data[end + 1] !== 0) return null
  const parts: Uint8Array[] = []
  let size = 0
  const stream = new Unzlib((part) => {
    parts.push(part)
    size += part.length
  })
  try {
    const packed = data.subarray(end + 2)
    for (let at = 0; at < packed.length && size <= MAX_PROFILE_BYTES; at += 1024) {
      stream.push(packed.subarray(at, at + 1024), at + 1024 >= packed.length)
    }
  } catch {
    return null
  }
  if (size > MAX_PROFILE_BYTES) throw new PhotoRefused({ code: 'damaged', kind: 'png' })
  const profile = new Uint8Array(size)
  let at = 0
  for (const part of parts) {
    profile.set(part, at)
    at += part.length
  }
  return profile
}
