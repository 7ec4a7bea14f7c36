import { CLIPPED, type LightImage } from '../image.ts'

/** A picture made small: means of linear light over square cells. Plain data, crosses threads. */
export interface LightMap {
  /** In cells; what does not fill a cell at the right and lower edge is left out. */
  readonly width: number
  readonly height: number
  /** Side of a cell, pixels of the picture. */
  readonly cell: number
  /** Size of the picture, pixels. */
  readonly of: { readonly width: number; readonly height: number }
  /** Three channels a cell: of an ordinary photo those of its file, by the nominal transfer function. */
  readonly light: Float32Array
  /** One byte a cell: the flags of all its pixels. */
  readonly flags: Uint8Array
}

/** Longest side of a map, cells. */
export const MAP_CELLS = 320
/** Smaller cells would be sorted by their noise. */
const LEAST_CELL = 4

/** Side of the cells of a picture's map. */
export const cellFor = (width: number, height: number): number =>
  Math.max(LEAST_CELL, Math.ceil(Math.max(width, height) / MAP_CELLS))

/**
 * Makes a map of a picture that is read in strips.
 *
 * @param strip linear light and flags of whole rows; the last one may be short
 */
export async function lightMap(
  of: { readonly width: number; readonly height: number },
  strip: (top: number, bottom: number) => Promise<Pick<LightImage, 'rgb' | 'flags'>>,
): Promise<LightMap> {
  const cell = cellFor(of.width, of.height)
  const width = Math.floor(of.width / cell)
  const height = Math.floor(of.height / cell)
  const light = new Float32Array(3 * width * height)
  const flags = new Uint8Array(width * height)
  for (let row = 0; row < height; row++) {
    const pixels = await strip(row * cell, (row + 1) * cell)
    addRow(pixels, of.width, cell, width, row * width, light, flags)
  }
  const share = 1 / (cell * cell)
  for (let i = 0; i < light.length; i++) light[i]! *= share
  return { width, height, cell, of: { width: of.width, height: of.height }, light, flags }
}

/** The hot loop: one row of cells. */
function addRow(
  { rgb, flags: seen }: Pick<LightImage, 'rgb' | 'flags'>,
  pixelsAcross: number,
  cell: number,
  width: number,
  first: number,
  light: Float32Array,
  flags: Uint8Array,
): void {
  for (let y = 0; y < cell; y++) {
    let p = y * pixelsAcross
    for (let x = 0; x < width; x++) {
      let [r, g, b, flag] = [0, 0, 0, 0]
      for (const end = p + cell; p < end; p++) {
        r += rgb[3 * p]!
        g += rgb[3 * p + 1]!
        b += rgb[3 * p + 2]!
        flag |= seen[p]!
      }
      const to = first + x
      light[3 * to]! += r
      light[3 * to + 1]! += g
      light[3 * to + 2]! += b
      flags[to]! |= flag
    }
  }
}

export const isClipped = ({ flags }: LightMap, at: number): boolean => (flags[at]! & CLIPPED) !== 0
