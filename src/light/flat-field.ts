/**
 * What a lens does to the colour of a picture from its middle to its corners, found in a photo of
 * something white that fills it: ln(G/R) and ln(B/R) over the square of the distance from the middle.
 * A slope across the picture belongs to the light or the paper as well as to the lens: it is not
 * taken for the lens, and counts as uncertain with all else that the square leaves over.
 */
import { average } from '../numerics/statistics.ts'
import type { Channels } from './image.ts'
import { isClipped, type LightMap } from './raw-pair/light-map.ts'

export interface FlatField {
  /** ln(G/R) and ln(B/R) of the corner less those of the middle, linear light. */
  readonly green: number
  readonly blue: number
  /** Standard uncertainty of the first; of the second twice as much. */
  readonly uncertainty: number
}

export type FlatFieldResult =
  | { readonly kind: 'measured'; readonly field: FlatField }
  | { readonly kind: 'refused'; readonly reason: 'clipped' | 'dark' | 'not even' }

/** Blocks along width and height. */
const COLUMNS = 16
const ROWS = 12
/** Share of the cells that may be clipped: dust, a lamp's reflection. */
const MOST_CLIPPED = 0.01
/** Linear green of the darkest block, of full scale: below it codes are steps. */
const LEAST_LIGHT = 0.02
/** ln of light from block to block across the middle, and ln(G/R) left over, beyond which it is a scene. */
const LARGEST_FALL = 0.7
const LARGEST_REST = 0.03
/** From the mean of what is left over to the corner: a slope reaches the square root of 3 of its mean. */
const TO_CORNER = Math.sqrt(3)
/** Contrast of ordinary photos is known to so much; ratios near grey change with it. */
const CONTRAST = 0.2

/** @param channels of the map's light */
export function flatFieldOf(map: LightMap, channels: Channels): FlatFieldResult {
  const cells = map.width * map.height
  let clipped = 0
  for (let at = 0; at < cells; at++) if (isClipped(map, at)) clipped++
  if (clipped > MOST_CLIPPED * cells) return { kind: 'refused', reason: 'clipped' }
  const blocks = blocksOf(map)
  if (!blocks.every(({ light }) => light[0] > 0 && light[1] > LEAST_LIGHT && light[2] > 0))
    return { kind: 'refused', reason: 'dark' }
  const level = overSquare(blocks, ({ light }) => Math.log(light[1]))
  const green = overSquare(blocks, ({ light }) => Math.log(light[1] / light[0]))
  const blue = overSquare(blocks, ({ light }) => Math.log(light[2] / light[0]))
  if (level.rest > LARGEST_FALL || green.rest > LARGEST_REST)
    return { kind: 'refused', reason: 'not even' }
  const contrast = channels === 'camera' ? 0 : CONTRAST * green.square
  const uncertainty = Math.hypot(TO_CORNER * green.rest, contrast)
  return { kind: 'measured', field: { green: green.square, blue: blue.square, uncertainty } }
}

interface Block {
  /** From the middle, in half diagonals. */
  readonly x: number
  readonly y: number
  readonly light: readonly [number, number, number]
}

function blocksOf({ width, height, light }: LightMap): Block[] {
  const sums = Array.from({ length: COLUMNS * ROWS }, () => [0, 0, 0, 0])
  for (let y = 0, at = 0; y < height; y++) {
    const row = COLUMNS * Math.floor((y * ROWS) / height)
    for (let x = 0; x < width; x++, at += 3) {
      const sum = sums[row + Math.floor((x * COLUMNS) / width)]!
      for (let c = 0; c < 3; c++) sum[c]! += light[at + c]!
      sum[3]!++
    }
  }
  const diagonal = Math.hypot(width, height) / 2
  return sums.map(([red, green, blue, count], i) => ({
    x: ((((i % COLUMNS) + 0.5) / COLUMNS - 0.5) * width) / diagonal,
    y: (((Math.floor(i / COLUMNS) + 0.5) / ROWS - 0.5) * height) / diagonal,
    light: [red! / count!, green! / count!, blue! / count!],
  }))
}

/**
 * A straight line over the square of the distance, by least squares; the root mean square of what it
 * leaves over. A slope across the picture has no part in it: the blocks lie evenly about the middle.
 */
function overSquare(blocks: readonly Block[], of: (block: Block) => number) {
  const squares = blocks.map(({ x, y }) => x * x + y * y)
  const values = blocks.map(of)
  const [middle, level] = [average(squares), average(values)]
  const both = average(squares.map((square, k) => (square - middle) * (values[k]! - level)))
  const square = both / average(squares.map((one) => (one - middle) ** 2))
  const rest = values.map((value, k) => value - level - square * (squares[k]! - middle))
  return { square, rest: Math.sqrt(average(rest.map((one) => one * one))) }
}
