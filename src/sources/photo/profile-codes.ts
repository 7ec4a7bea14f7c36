import { encodeTransfer } from '../../colour/rgb-spaces.ts'
import { CURVE_STEPS, type MatrixProfile } from '../files/icc-profile.ts'
import type { CodeMap } from './pixel-source.ts'

/** From this code on a channel counts as clipped in the file, and all three are carried to the top. */
const CLIPPED_CODE = 254.5 / 255

/**
 * Carries codes of a file with a matrix profile to codes of Display P3: its own curve and primaries,
 * no table of the browser in between. Clipping and floor stay what they are: a channel at the file's
 * top puts the pixel at the top, colours outside of P3 stand at 0.
 */
export function profileCodes({ toP3, curves }: MatrixProfile): CodeMap {
  const light = (table: Float64Array, code: number) => {
    const at = Math.min(Math.max(code, 0), 1) * (CURVE_STEPS - 1)
    const low = Math.min(Math.floor(at), CURVE_STEPS - 2)
    return table[low]! + (at - low) * (table[low + 1]! - table[low]!)
  }
  return (codes, at) => {
    const [red, green, blue] = [codes[at]!, codes[at + 1]!, codes[at + 2]!]
    if (Math.max(red, green, blue) >= CLIPPED_CODE) {
      codes.fill(1, at, at + 3)
      return
    }
    const [r, g, b] = [light(curves[0], red), light(curves[1], green), light(curves[2], blue)]
    for (let c = 0; c < 3; c++) {
      const [x, y, z] = toP3[c as 0 | 1 | 2]
      codes[at + c] = encodeTransfer(Math.min(Math.max(x * r + y * g + z * b, 0), 1))
    }
  }
}
