import type { Triple } from '../numerics/matrix3.ts'
import type { StoredImage } from './image.ts'

/** Codes 0..1 from which on a channel counts as clipped. */
export interface ClippingLevels {
  readonly codes: Triple
  /** Channels whose level was found as a plateau below the top code. */
  readonly plateau: readonly [boolean, boolean, boolean]
}

/** The top code itself, with half a code for rounding. */
const TOP_CODE = 254.5 / 255
/** Sharp plateaus are looked for from this 8-bit code on; an even area may lie at any lower one. */
const LOWEST_SHARP = 240
/** Dead ones from here on: red can be cut in the sensor and stored dark. */
const LOWEST_DEAD = 60
/** Share of the pixels, and pixels, that a plateau has at least. */
const LEAST_SHARE = 5e-4
const LEAST_PIXELS = 64
/** A plateau is an edge: at most this share of its pixels lies further above it than its own spread. */
const ABOVE = 0.01
/** Share of the pixels near the top that a sharp plateau holds in one code. */
const SHARPNESS = 0.85
const BLOCK = 8
/** Codes, either side of its own, that block means of a plateau keep to. */
const LEVEL = 2
/**
 * The same where red was cut before the colour matrix: that takes a share of green off it again, so that it
 * falls while green rises.
 */
const TILTED_LEVEL = 6
/**
 * Codes by which another channel varies over a dead plateau: a sixth of the light at code 65, as where red has
 * lost a tenth of its mean.
 */
const LEAST_RISE = 5
/**
 * A glow's red rises with its green, in codes by some 0.6 of the share that green rises by, in the shoulder of
 * a strong tone curve by 0.3; a cut one by next to nothing.
 */
const LARGEST_SLOPE = 0.15
/** Share of a plateau's blocks, the least green ones, that may still belong to its rising flank. */
const FLANK = 0.3
/** Of the blocks that are as green as the plateau so many lie on it: elsewhere red is no brighter. */
const ON_PLATEAU = 0.9
/** Blocks that a plateau has at least. */
const LEAST_BLOCKS = 12

/**
 * From which code on each channel is clipped.
 *
 * Always the top code. Lower where the picture shows a plateau: some cameras render their white at
 * 250 or so, and everything beyond it is flat. A plateau is the highest peak of the channel's
 * histogram, with nothing above it, that is either *sharp* (noise and gradients spread a true level
 * over several codes; a cut one stays in one; from code 240 on) or *dead* (8x8 block means of this
 * channel do not rise while another channel varies by several per cent: an uneven glow whose red
 * is cut, before the picture was made or after, so at any code; this also holds where JPEG smears the
 * plateau).
 * An even, noise-free area above code 240 cannot be told from a plateau and counts as one: the
 * advice to expose less costs nothing there.
 */
export function clippingLevels(image: StoredImage): ClippingLevels {
  const found = ([0, 1, 2] as const).map((channel) => plateauCode(image, channel))
  const code = (c: 0 | 1 | 2) => Math.min(found[c] ?? TOP_CODE, TOP_CODE)
  const is = (c: 0 | 1 | 2) => found[c] !== undefined
  return { codes: [code(0), code(1), code(2)], plateau: [is(0), is(1), is(2)] }
}

function plateauCode(image: StoredImage, channel: 0 | 1 | 2): number | undefined {
  const { codes } = image
  const counts = new Uint32Array(256)
  for (let i = channel; i < codes.length; i += 3) {
    const byte = Math.round(codes[i]! * 255)
    if (byte < 256) counts[byte]!++
  }
  const between = (low: number, high: number) => {
    let sum = 0
    for (let k = low; k <= Math.min(high, 255); k++) sum += counts[k]!
    return sum
  }
  const enough = Math.max(LEAST_PIXELS, LEAST_SHARE * (codes.length / 3))
  const modeFrom = (lowest: number, reach: number): number | undefined => {
    let mode = lowest
    for (let k = lowest; k < 256; k++) if (counts[k]! > counts[mode]!) mode = k
    const peak = between(mode - 1, mode + 1)
    const isEdge = between(mode + reach + 2, 255) <= ABOVE * peak
    return mode < 254 && peak >= enough && isEdge ? mode : undefined
  }
  const high = modeFrom(LOWEST_SHARP, LEVEL)
  if (high !== undefined) {
    const nearTop = between(high - 3, 255)
    const peak = between(high - 1, high + 1)
    if (counts[high]! >= SHARPNESS * nearTop && between(high + 2, 255) <= ABOVE * peak)
      return (high - 1.5) / 255
  }
  if (high !== undefined) return isDead(image, channel, high) ? (high - 2.5) / 255 : undefined
  // Below white only the red of a glow is looked at: it is cut while the others are far from it.
  const low = channel === 0 ? modeFrom(LOWEST_DEAD, TILTED_LEVEL) : undefined
  if (low === undefined || !isDead(image, channel, low, low - 20)) return undefined
  return (low - TILTED_LEVEL - 0.5) / 255
}

/**
 * Whether this channel does not rise over blocks in which another one clearly varies.
 *
 * @param highest mean code of the other channels up to which a block counts
 */
function isDead(image: StoredImage, channel: 0 | 1 | 2, mode: number, highest = 255): boolean {
  const others = ([0, 1, 2] as const).filter((c) => c !== channel)
  const blocks = blockMeans(image).filter((block) => others.every((c) => block[c] <= highest))
  const tilted = channel === 0 ? TILTED_LEVEL : LEVEL
  const level = blocks.filter((block) => Math.abs(block[channel] - mode) <= tilted)
  if (level.length < LEAST_BLOCKS) return false
  return others.some((other) => {
    const [low, flank, high] = quantiles(
      level.map((block) => block[other]),
      [0.1, FLANK, 0.9],
    ) as [number, number, number]
    if (high - low < LEAST_RISE) return false
    const asGreen = blocks.filter((block) => block[other] >= flank)
    const on = level.filter((block) => block[other] >= flank)
    return (
      on.length >= ON_PLATEAU * asGreen.length && relativeSlope(on, channel, other) <= LARGEST_SLOPE
    )
  })
}

/** Mean codes of 8x8 blocks. */
function blockMeans({ width, height, codes }: StoredImage): Triple[] {
  const means: Triple[] = []
  for (let top = 0; top + BLOCK <= height; top += BLOCK) {
    for (let left = 0; left + BLOCK <= width; left += BLOCK) {
      const sum = [0, 0, 0]
      for (let y = top; y < top + BLOCK; y++) {
        for (let i = 3 * (y * width + left); i < 3 * (y * width + left + BLOCK); i += 3) {
          sum[0]! += codes[i]!
          sum[1]! += codes[i + 1]!
          sum[2]! += codes[i + 2]!
        }
      }
      const code = (c: 0 | 1 | 2) => (255 * sum[c]!) / (BLOCK * BLOCK)
      means.push([code(0), code(1), code(2)])
    }
  }
  return means
}

/** Share by which one channel rises where another rises by 1 (least squares about the means). */
function relativeSlope(blocks: readonly Triple[], of: 0 | 1 | 2, over: 0 | 1 | 2): number {
  const mean = (c: 0 | 1 | 2) => blocks.reduce((sum, block) => sum + block[c], 0) / blocks.length
  const [y, x] = [mean(of), mean(over)]
  let [both, own] = [0, 0]
  for (const block of blocks) {
    both += (block[of] - y) * (block[over] - x)
    own += (block[over] - x) ** 2
  }
  return ((both / own) * x) / y
}

function quantiles(values: readonly number[], shares: readonly number[]): number[] {
  const sorted = Float64Array.from(values).sort()
  return shares.map((share) => sorted[Math.round(share * (sorted.length - 1))]!)
}
