import { connectedParts } from '../grid.ts'
import type { LightImage, Region } from '../image.ts'
import { type PixelBox, pixelBox } from '../region.ts'

/** Share of the region's mean red down to which a glow is followed: 190 K colder at 1173 K. */
const FOLLOWED = 0.04
/** Linear red below which there is no light to measure: as in measure-glow. */
const DARK_LEVEL = 0.002

/** The box of the glow that is connected with a region; the region's own box where none is. */
export function glowExtent({ width, height, rgb }: LightImage, region: Region): PixelBox {
  const own = pixelBox(region, width, height)
  let sum = 0
  for (let y = own.top; y < own.bottom; y++)
    for (let x = own.left; x < own.right; x++) sum += rgb[3 * (y * width + x)]!
  const pixels = Math.max((own.right - own.left) * (own.bottom - own.top), 1)
  const least = Math.max((FOLLOWED * sum) / pixels, DARK_LEVEL)
  const box: { -readonly [Side in keyof PixelBox]: number } = { ...own }
  const glows = (at: number) => rgb[3 * at]! > least
  for (const part of connectedParts(width, height, glows, () => true)) {
    let [left, top, right, bottom] = [width, height, 0, 0]
    let here = false
    for (const at of part) {
      const x = at % width
      const y = (at - x) / width
      left = Math.min(left, x)
      right = Math.max(right, x + 1)
      top = Math.min(top, y)
      bottom = Math.max(bottom, y + 1)
      here ||= x >= own.left && x < own.right && y >= own.top && y < own.bottom
    }
    if (!here) continue
    box.left = Math.min(box.left, left)
    box.top = Math.min(box.top, top)
    box.right = Math.max(box.right, right)
    box.bottom = Math.max(box.bottom, bottom)
  }
  return box
}
