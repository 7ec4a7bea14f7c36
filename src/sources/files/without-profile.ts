/**
 * A picture file without what it says of its colours: engines then hand out the codes as they are
 * stored, and whoever knows the space from the header reads them by it. With the profile in the file
 * some engines convert to sRGB, and cut off what lies outside.
 *
 * Structures after ISO/IEC 10918-1 annex B (JPEG), ICC.1:2022 annex B.4 (APP2), PNG 3rd edition 11.3.2,
 * RFC 9649 2.7 (WebP).
 */
import { ascii, spells, viewOf } from './bytes.ts'

const ICC = 'ICC_PROFILE\0'
/** Bit of the VP8X chunk that announces a profile. */
const WEBP_PROFILE_FLAG = 0x20
const PNG_COLOURS = new Set(['iCCP', 'cICP', 'gAMA', 'cHRM', 'sRGB', 'mDCV', 'cLLI'])

/**
 * The file without its profile: the same bytes where it has none; null for kinds that are not taken
 * apart. In one piece: Firefox 153 decodes no picture from a blob of several.
 */
export function withoutProfile(
  bytes: Uint8Array<ArrayBuffer>,
  kind: string,
): Uint8Array<ArrayBuffer> | null {
  const take = PIECES[kind]
  if (take === undefined) return null
  const pieces = take(bytes)
  if (pieces.length === 1) return bytes
  const whole = new Uint8Array(pieces.reduce((sum, piece) => sum + piece.length, 0))
  let at = 0
  for (const piece of pieces) {
    whole.set(piece, at)
    at += piece.length
  }
  return whole
}

const PIECES: Record<string, (bytes: Uint8Array<ArrayBuffer>) => Uint8Array<ArrayBuffer>[]> = {
  jpeg: jpegPieces,
  png: pngPieces,
  webp: webpPieces,
}

function jpegPieces(bytes: Uint8Array<ArrayBuffer>): Uint8Array<ArrayBuffer>[] {
  const view = viewOf(bytes)
  const pieces: Uint8Array<ArrayBuffer>[] = []
  let from = 0
  for (let at = 2; at + 4 <= bytes.length; ) {
    // Junk and fill bytes stay where they are.
    if (bytes[at] !== 0xff || bytes[at + 1] === 0xff) {
      at++
      continue
    }
    const marker = bytes[at + 1]!
    if (marker === 0xda || marker === 0xd9) break
    if (marker === 0 || marker === 0x01 || (marker >= 0xd0 && marker <= 0xd8)) {
      at += 2
      continue
    }
    const end = at + 2 + Math.max(2, view.getUint16(at + 2))
    if (marker === 0xe2 && spells(bytes, at + 4, ICC)) {
      pieces.push(bytes.subarray(from, at))
      from = end
    }
    at = end
  }
  return [...pieces, bytes.subarray(from)]
}

function pngPieces(bytes: Uint8Array<ArrayBuffer>): Uint8Array<ArrayBuffer>[] {
  const view = viewOf(bytes)
  const pieces: Uint8Array<ArrayBuffer>[] = []
  let from = 0
  for (let at = 8; at + 12 <= bytes.length; ) {
    const name = ascii(bytes, at + 4, 4)
    const end = at + 12 + view.getUint32(at)
    // All that speaks of colours stands before the pixels.
    if (name === 'IDAT') break
    if (PNG_COLOURS.has(name)) {
      pieces.push(bytes.subarray(from, at))
      from = end
    }
    at = end
  }
  return [...pieces, bytes.subarray(from)]
}

/** The profile's chunk goes; the length of the whole and the flag that announces it follow. */
function webpPieces(bytes: Uint8Array<ArrayBuffer>): Uint8Array<ArrayBuffer>[] {
  const view = viewOf(bytes)
  for (let at = 12; at + 8 <= bytes.length; ) {
    const length = view.getUint32(at + 4, true)
    const end = at + 8 + length + (length & 1)
    if (ascii(bytes, at, 4) === 'ICCP') {
      const head = bytes.slice(0, at)
      const inside = viewOf(head)
      inside.setUint32(4, view.getUint32(4, true) - (end - at), true)
      if (spells(head, 12, 'VP8X')) head[20]! &= ~WEBP_PROFILE_FLAG
      return [head, bytes.subarray(end)]
    }
    at = end
  }
  return [bytes]
}
