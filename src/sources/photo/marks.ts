import type { ClippingLevels } from '../../light/clipping-level.ts'
import type { PixelSource } from './pixel-source.ts'

/** A picture seen through a grid of square blocks: what any pixel of a block does. */
export interface BlockFlags {
  readonly columns: number
  readonly rows: number
  /** One byte a block: CLIPPED_BLOCK, FLOOR_BLOCK, LIGHT_BLOCK. */
  readonly flags: Uint8Array
}

export const CLIPPED_BLOCK = 1
export const FLOOR_BLOCK = 2
/** The block shows light at all: the black around a glow is meant to be black. */
export const LIGHT_BLOCK = 4
const LIGHT_CODE = 32 / 255

/** Colours of the marks, RGBA, as the legend beside the picture shows them. */
const CLIPPED_BRIGHT = [0x00, 0xe5, 0xff, 255] as const
const CLIPPED_DARK = [0, 0, 0, 255] as const
const FLOOR_DOT = [0x6f, 0x8c, 0xff, 255] as const

const STRIP_PIXELS = 400_000

/** Side of the blocks that shrinks a picture to at most the given length. */
export function blockSide(width: number, height: number, longest: number): number {
  return Math.max(1, Math.ceil(Math.max(width, height) / longest))
}

/**
 * Looks at every pixel of a picture once.
 *
 * @param block side of a block, pixels; blocks at the right and lower edge may be cut
 * @param pause awaited between strips of some 10 ms of work, so that other calls are answered
 */
export async function scanFlags(
  source: PixelSource,
  block: number,
  { codes }: ClippingLevels,
  pause: () => Promise<void> = async () => undefined,
): Promise<BlockFlags> {
  const { width, height } = source
  const columns = Math.ceil(width / block)
  const rows = Math.ceil(height / block)
  const flags = new Uint8Array(columns * rows)
  // A code is clipped from the first whole one on that reaches the level.
  const top = codes.map((code) => Math.ceil(code * source.topCode - 1e-6)) as [
    number,
    number,
    number,
  ]
  const light = LIGHT_CODE * source.topCode
  const stripHeight = block * Math.max(1, Math.floor(STRIP_PIXELS / width / block))
  for (let y = 0; y < height; y += stripHeight) {
    const bottom = Math.min(y + stripHeight, height)
    const pixels = await source.read({ left: 0, right: width, top: y, bottom })
    for (let row = y; row < bottom; row++) {
      const cell = Math.floor(row / block) * columns
      flagRow(pixels, 4 * (row - y) * width, width, block, top, light, flags, cell)
    }
    await pause()
  }
  return { columns, rows, flags }
}

/** The hot loop: one row of pixels into the flags of its blocks. */
function flagRow(
  pixels: Uint8ClampedArray | Uint16Array,
  start: number,
  width: number,
  block: number,
  [redTop, greenTop, blueTop]: readonly [number, number, number],
  light: number,
  flags: Uint8Array,
  firstCell: number,
): void {
  let i = start
  let cell = firstCell
  for (let x = 0; x < width; cell++) {
    const end = Math.min(x + block, width)
    let flag = flags[cell]!
    for (; x < end; x++, i += 4) {
      const red = pixels[i]!
      const green = pixels[i + 1]!
      const blue = pixels[i + 2]!
      if (red >= redTop || green >= greenTop || blue >= blueTop) flag |= CLIPPED_BLOCK
      if (red === 0 || green === 0 || blue === 0) flag |= FLOOR_BLOCK
      if (red >= light) flag |= LIGHT_BLOCK
    }
    flags[cell] = flag
  }
}

/**
 * Marks over the picture, one pixel a block: stripes where any pixel of the block is clipped in any
 * channel, dots where there is light but a channel of some pixel stands at 0. Clipped blocks at an
 * edge or alone are always bright, so that a single clipped pixel is seen.
 *
 * @returns RGBA, transparent where there is nothing to mark; null where nothing is marked at all
 */
export function drawMarks({
  columns,
  rows,
  flags,
}: BlockFlags): Uint8ClampedArray<ArrayBuffer> | null {
  const isClipped = (x: number, y: number) =>
    x >= 0 && y >= 0 && x < columns && y < rows && (flags[y * columns + x]! & CLIPPED_BLOCK) !== 0
  const marks = new Uint8ClampedArray(4 * columns * rows)
  let marked = false
  for (let y = 0, cell = 0; y < rows; y++) {
    for (let x = 0; x < columns; x++, cell++) {
      if (isClipped(x, y)) {
        const inside =
          isClipped(x - 1, y) && isClipped(x + 1, y) && isClipped(x, y - 1) && isClipped(x, y + 1)
        const bright = !inside || (((x + y) >> 2) & 1) === 0
        marks.set(bright ? CLIPPED_BRIGHT : CLIPPED_DARK, 4 * cell)
        marked = true
      } else if ((flags[cell]! & (FLOOR_BLOCK | LIGHT_BLOCK)) === (FLOOR_BLOCK | LIGHT_BLOCK)) {
        if (x % 6 < 2 && y % 6 < 2) marks.set(FLOOR_DOT, 4 * cell)
        marked = true
      }
    }
  }
  return marked ? marks : null
}
