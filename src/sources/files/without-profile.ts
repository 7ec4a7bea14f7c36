/**
 * A picture file without what it says of its colours: engines then hand out the codes as they are
 * stored, and whoever knows the space from the header reads them by it. With the profile in the file
 * some engines convert to sRGB, and cut off what lies outside.
 *
 * Structures after ISO/IEC 10918-1 annex B (JPEG), ICC.1:2022 annex B.4 (APP2), PNG 3rd edition 11.3.2.
 */
import { ascii, spells, viewOf } from './bytes.ts'

const ICC = 'ICC_PROFILE\0'
const PNG_COLOURS = new Set(['iCCP', 'cICP', 'gAMA', 'cHRM', 'sRGB', 'mDCV', 'cLLI'])

/**
 * The file without its profile: the same bytes where it has none; null for kinds that are not taken
 * apart. In one piece: Firefox 153 decodes no picture from a blob of several.
 */
export function withoutProfile(
  bytes: Uint8Array<ArrayBuffer>,
  kind: string,
): Uint8Array<ArrayBuffer> | null {
  const pieces = kind === 'jpeg' ? jpegPieces(bytes) : kind === 'png' ? pngPieces(bytes) : null
  if (pieces === null || pieces.length === 1) return pieces && bytes
  const whole = new Uint8Array(pieces.reduce((sum, piece) => sum + piece.length, 0))
  let at = 0
  for (const piece of pieces) {
    whole.set(piece, at)
    at += piece.length
  }
  return whole
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
