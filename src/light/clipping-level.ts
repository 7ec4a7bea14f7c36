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
/** A plateau is an edge: at most this share of its pixels lies more than 3 codes above it. */
const ABOVE = 0.01
/** Share of the pixels near the top that a sharp plateau holds in one code. */
const SHARPNESS = 0.85
const BLOCK = 8
/**
 * Codes by which another channel varies over a dead plateau: a sixth of the light at code 65, as where red has
 * lost a tenth of its mean. And so many times as much as the plateau itself, which noise and JPEG move by less
 * than half a code.
 */
const LEAST_RISE = 5
const RISE_OVER_OWN = 12

/**
 * From which code on each channel is clipped.
 *
 * Always the top code. Lower where the picture shows a plateau: some cameras render their white at
 * 250 or so, and everything beyond it is flat. A plateau is the highest peak of the channel's
 * histogram, with nothing above it, that is either *sharp* (noise and gradients spread a true level
 * over several codes; a cut one stays in one; from code 240 on) or *dead* (8x8 block means of this
 * channel stay the same while another channel varies by several per cent: an uneven glow whose red
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
  const modeFrom = (lowest: number): number | undefined => {
    let mode = lowest
    for (let k = lowest; k < 256; k++) if (counts[k]! > counts[mode]!) mode = k
    const peak = between(mode - 1, mode + 1)
    const isEdge = between(mode + 4, 255) <= ABOVE * peak
    return mode < 254 && peak >= enough && isEdge ? mode : undefined
  }
  const high = modeFrom(LOWEST_SHARP)
  if (high !== undefined) {
    const nearTop = between(high - 3, 255)
    const peak = between(high - 1, high + 1)
    if (counts[high]! >= SHARPNESS * nearTop && between(high + 2, 255) <= ABOVE * peak)
      return (high - 1.5) / 255
  }
  if (high !== undefined) return isDead(image, channel, high) ? (high - 2.5) / 255 : undefined
  // Below white only the red of a glow is looked at: it is cut while the others are far from it.
  const low = channel === 0 ? modeFrom(LOWEST_DEAD) : undefined
  return low !== undefined && isDead(image, channel, low, low - 20) ? (low - 2.5) / 255 : undefined
}

/**
 * Whether this channel stays put over blocks in which another one clearly varies.
 *
 * @param highest mean code of the other channels up to which a block counts
 */
function isDead(image: StoredImage, channel: 0 | 1 | 2, mode: number, highest = 255): boolean {
  const { width, height, codes } = image
  const means: [number[], number[], number[]] = [[], [], []]
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
      const code = (255 * sum[channel]!) / (BLOCK * BLOCK)
      if (Math.abs(code - mode) > 2) continue
      const others = sum.filter((_, c) => c !== channel)
      if (Math.max(...others) * 255 > highest * BLOCK * BLOCK) continue
      for (const c of [0, 1, 2] as const) means[c].push((255 * sum[c]!) / (BLOCK * BLOCK))
    }
  }
  if (means[channel].length < 12) return false
  const own = spread(means[channel])
  return means.some(
    (other, c) => c !== channel && spread(other) >= Math.max(LEAST_RISE, RISE_OVER_OWN * own),
  )
}

/** 10 to 90 % range. */
function spread(values: readonly number[]): number {
  const sorted = Float64Array.from(values).sort()
  const at = (share: number) => sorted[Math.round(share * (sorted.length - 1))]!
  return at(0.9) - at(0.1)
}
