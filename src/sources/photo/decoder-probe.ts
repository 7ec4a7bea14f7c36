import { hasCanvasIn } from './bitmap-codes.ts'
import { BitmapPixels } from './bitmap-pixels.ts'
import { PROBE_PNG } from './decoder-probe.data.ts'

/** How pixels come back in this browser. */
export type DecoderState =
  /** Every code of a wide-gamut picture comes back as it was. */
  | 'exact'
  /** Wide gamut is cut to sRGB: no P3 canvas, or a decoder that converts. */
  | 'srgb only'
  /** Codes are changed on purpose, as a protection against fingerprints. */
  | 'altered'

/**
 * Codes of the probe: dull reds to orange outside of sRGB on the left, greys on the right.
 *
 * @returns 8-bit code in Display P3
 */
export function probeCode(x: number, y: number, channel: number): number {
  const level = 15 + 15 * y
  return x >= 8 || channel === 0 ? level : channel === 1 ? (level * x) >> 5 : 0
}

/**
 * Decodes a picture of known codes and reads it back. Greys are the same in sRGB and Display P3: if
 * they differ, somebody alters pixels; if only the colours do, the browser has no wide gamut.
 */
export async function probeDecoder(): Promise<DecoderState> {
  const png = Uint8Array.from(atob(PROBE_PNG), (c) => c.charCodeAt(0))
  const bitmap = await createImageBitmap(new Blob([png], { type: 'image/png' }))
  const space = hasCanvasIn('display-p3') ? 'display-p3' : 'srgb'
  const source = new BitmapPixels(bitmap, space)
  const pixels = await source.read({ left: 0, top: 0, right: 16, bottom: 16 })
  source.close()
  let worstGrey = 0
  let worstColour = 0
  for (let y = 0, i = 0; y < 16; y++) {
    for (let x = 0; x < 16; x++, i += 4) {
      for (let c = 0; c < 3; c++) {
        const difference = Math.abs(pixels[i + c]! - probeCode(x, y, c))
        if (x >= 8) worstGrey = Math.max(worstGrey, difference)
        else worstColour = Math.max(worstColour, difference)
      }
    }
  }
  // A code more or less is rounding and does no harm.
  if (worstGrey > 1) return 'altered'
  return space === 'display-p3' && worstColour <= 1 ? 'exact' : 'srgb only'
}
