import { decodeTransfer } from '../../colour/rgb-spaces.ts'
import type { Triple } from '../../numerics/matrix3.ts'
import type { StoredImage } from '../image.ts'

/** The region of one live frame: what a rolling reading rests on. */
export interface FrameMean {
  /** Mean linear light in the stream's own space, 0..1. */
  readonly linear: Triple
  readonly pixels: number
  /** Share of pixels with a channel at the top, and with green at the floor. */
  readonly clippedShare: number
  readonly greenFloorShare: number
}

/** The transfer function in steps of a sixteenth of an 8-bit code. */
export const CODE_STEPS = 4096
export const LIGHT_OF_CODE = Float64Array.from({ length: CODE_STEPS }, (_, i) =>
  decodeTransfer(i / (CODE_STEPS - 1)),
)
const TOP = 254.5 / 255
const FLOOR = 0.5 / 255

/** Mean of all pixels of a crop; quick (5 ns a pixel), no judgement. */
export function frameMean({ codes }: StoredImage): FrameMean {
  const pixels = codes.length / 3
  let [r, g, b, clipped, floor] = [0, 0, 0, 0, 0]
  for (let i = 0; i < codes.length; i += 3) {
    const red = codes[i]!
    const green = codes[i + 1]!
    const blue = codes[i + 2]!
    if (red >= TOP || green >= TOP || blue >= TOP) clipped++
    if (green < FLOOR) floor++
    r += LIGHT_OF_CODE[(red * (CODE_STEPS - 1) + 0.5) | 0]!
    g += LIGHT_OF_CODE[(green * (CODE_STEPS - 1) + 0.5) | 0]!
    b += LIGHT_OF_CODE[(blue * (CODE_STEPS - 1) + 0.5) | 0]!
  }
  const n = Math.max(pixels, 1)
  return {
    linear: [r / n, g / n, b / n],
    pixels,
    clippedShare: clipped / n,
    greenFloorShare: floor / n,
  }
}
