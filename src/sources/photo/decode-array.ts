import { decode as decodePng } from 'fast-png'
import { decode as decodeTiff } from 'tiff'
import { PhotoRefused } from '../files/photo-refusal.ts'
import type { DecodedArray } from './array-pixels.ts'

/**
 * Decodes what browsers cut to 8 bits or do not know: PNG and TIFF with all their bits.
 *
 * @throws PhotoRefused
 */
export function decodeArray(bytes: Uint8Array, kind: 'png' | 'tiff'): DecodedArray {
  try {
    const found = kind === 'png' ? pngOf(bytes) : tiffOf(bytes)
    if (found) return found
  } catch {
    // What the libraries say of a broken file is for programmers.
  }
  throw new PhotoRefused({ code: 'damaged', kind })
}

function pngOf(bytes: Uint8Array): DecodedArray | null {
  const { width, height, channels, data } = decodePng(bytes)
  return channels === 3 || channels === 4 ? { width, height, channels, codes: data } : null
}

function tiffOf(bytes: Uint8Array): DecodedArray | null {
  const [first] = decodeTiff(bytes, { pages: [0] })
  if (first === undefined) return null
  const { width, height, data, samplesPerPixel: channels } = first
  const whole = data instanceof Uint8Array || data instanceof Uint16Array
  return whole && (channels === 3 || channels === 4)
    ? { width, height, channels, codes: data }
    : null
}
