import { median } from '../numerics/statistics.ts'
import { connectedParts, largestRectangle } from './grid.ts'
import type { Region, StoredImage } from './image.ts'
import { decodeByte } from './tone-response.ts'

/** A proposed region, or why there is none. */
export type GlowProposal =
  | {
      readonly kind: 'found'
      readonly region: Region
      /** Linear red level of the region in the file's own space, 0..1. */
      readonly redLevel: number
      readonly greenOverRed: number
      /** Part of the same glow is clipped: the region lies beside it. */
      readonly besideClipped: boolean
    }
  | {
      readonly kind: 'none'
      readonly reason:
        | 'all black'
        /** What there is of light is clipped. */
        | 'all clipped'
        /** Nothing has the colour of a glow. */
        | 'no glow colour'
        /** Something red, but the rest of the picture is as bright: not lit by itself. */
        | 'lit scene'
        /** Glow colour, but no even part of it is large enough. */
        | 'too small'
    }

const BLOCK_SIZES = [8, 4, 2] as const
/** Blocks that a region has at least. */
const LEAST_BLOCKS = 4
/** Linear red below which a block is dark. */
const DARK = 0.02
/** Part of a glow below this share of its brightest red is halo or edge. */
const HALO = 0.25
/** Steps of ln R and ln(G/R) between neighbouring blocks of one even part. */
const LEVEL_STEP = 0.3
const COLOUR_STEP = 0.35
/** Range of ln R about the median in one region. */
const LEVEL_RANGE = 0.35
/** Relative standard deviation of red inside an even block. */
const ROUGHNESS = 0.15
/** Share of the picture as bright as the candidate from which on the scene is lit by something else. */
const LIT_SHARE = 0.3
/**
 * Share of clipped pixels that makes a block clipped. A few come from sharpening and noise; where
 * they are too many for a reading, measuring the region says so.
 */
const CLIPPED_SHARE = 0.05

/** Blocks left free along the edges of the rectangle: blur and colour at half resolution. */
const EDGE = 0.5

/** The top code, with half a code for rounding. */
const TOP = 254.5 / 255

const DARK_BLOCK = 0
const OTHER = 1
const GLOW = 2
const CLIPPED = 3

interface Blocks {
  readonly size: number
  readonly columns: number
  readonly rows: number
  readonly kind: Uint8Array
  readonly red: Float32Array
  readonly green: Float32Array
  readonly luminance: Float32Array
  readonly even: Uint8Array
}

/**
 * Whether linear R, G, B look like a body glowing below some 2900 K, seen by any camera.
 *
 * On the Planckian locus in Display P3, B/R is below 0.55 (G/R)^2 (1500 K: 0.011 at 0.19, 2700 K:
 * 0.15 at 0.49); the blue of cameras leaks: of 52 measured ones, 51 keep within 0.07 more from
 * 1000 K on. Saturated red paint passes too: see 'lit scene'.
 */
function hasGlowColour(r: number, g: number, b: number): boolean {
  const ratio = g / r
  return ratio <= 0.55 && b <= (0.07 + 0.55 * ratio * ratio) * r
}

/**
 * Proposes where to read the glow.
 *
 * Blocks of pixels are dark, clipped, of glow colour, or other. Around a clipped core, and below a
 * quarter of the brightest red of the same glow, light is bloom and halo and no surface. Of the
 * rest, the largest part with small steps of level and colour from block to block is taken, and in
 * it the largest upright rectangle of nearly one level, half a block off every edge. Finer blocks are
 * tried when coarse ones find nothing: thin wires.
 *
 * @param image any size; meant for about 1 megapixel (then some 20 ms)
 */
export function findGlow(image: StoredImage): GlowProposal {
  let none: GlowProposal = { kind: 'none', reason: 'too small' }
  for (const size of BLOCK_SIZES) {
    const blocks = classify(image, size)
    const absent = reasonOfAbsence(blocks)
    if (absent) return { kind: 'none', reason: absent }
    const found = bestPart(blocks)
    if (found.kind === 'found' || found.reason === 'lit scene') return found
    none = found
  }
  return none
}

function classify(image: StoredImage, size: number): Blocks {
  const { width, height, codes } = image
  const columns = Math.floor(width / size)
  const rows = Math.floor(height / size)
  const n = columns * rows
  const blocks: Blocks = {
    size,
    columns,
    rows,
    kind: new Uint8Array(n),
    red: new Float32Array(n),
    green: new Float32Array(n),
    luminance: new Float32Array(n),
    even: new Uint8Array(n),
  }
  const pixels = size * size
  for (let row = 0, at = 0; row < rows; row++) {
    for (let column = 0; column < columns; column++, at++) {
      let [r, g, b, rr, clipped] = [0, 0, 0, 0, 0]
      for (let y = row * size; y < (row + 1) * size; y++) {
        let i = 3 * (y * width + column * size)
        for (let x = 0; x < size; x++, i += 3) {
          const red = codes[i]!
          const green = codes[i + 1]!
          const blue = codes[i + 2]!
          if (red >= TOP || green >= TOP || blue >= TOP) clipped++
          const linear = decodeByte(red)
          r += linear
          rr += linear * linear
          g += decodeByte(green)
          b += decodeByte(blue)
        }
      }
      r /= pixels
      g /= pixels
      b /= pixels
      const variance = Math.max(rr / pixels - r * r, 0)
      blocks.red[at] = r
      blocks.green[at] = g
      // ITU-R BT.709 weights; enough to compare brightness.
      blocks.luminance[at] = 0.2126 * r + 0.7152 * g + 0.0722 * b
      blocks.even[at] = variance <= (ROUGHNESS * r) ** 2 ? 1 : 0
      if (clipped > CLIPPED_SHARE * pixels) blocks.kind[at] = CLIPPED
      else if (r < DARK && g < DARK && b < DARK) blocks.kind[at] = DARK_BLOCK
      else blocks.kind[at] = hasGlowColour(r, g, b) ? GLOW : OTHER
    }
  }
  return blocks
}

function reasonOfAbsence({ kind }: Blocks): 'all black' | 'all clipped' | 'no glow colour' | null {
  const count = [0, 0, 0, 0]
  for (const k of kind) count[k]!++
  if (count[GLOW]! > 0) return null
  if (count[CLIPPED]! > 0 && count[CLIPPED]! >= count[OTHER]!) return 'all clipped'
  return count[OTHER]! > 0 ? 'no glow colour' : 'all black'
}

function bestPart(blocks: Blocks): GlowProposal {
  const { kind, red, green, even, columns, rows, size } = blocks
  const lit = (at: number) => kind[at] === GLOW || kind[at] === CLIPPED
  const peak = new Float32Array(kind.length)
  const touchesClipped = new Uint8Array(kind.length)
  for (const glow of connectedParts(columns, rows, lit, () => true)) {
    let top = 0
    for (const at of glow) top = Math.max(top, kind[at] === CLIPPED ? 1 : red[at]!)
    for (const at of glow) {
      peak[at] = top
      touchesClipped[at] = top === 1 ? 1 : 0
    }
  }
  const besideCore = (at: number) => neighbours(at, columns, rows).some((o) => kind[o] === CLIPPED)
  const usable = new Uint8Array(kind.length)
  for (let at = 0; at < kind.length; at++) {
    if (kind[at] !== GLOW || even[at] === 0 || red[at]! < HALO * peak[at]!) continue
    usable[at] = besideCore(at) ? 0 : 1
  }
  const level = red.map(Math.log)
  // A floor keeps green near code 0 from making steps out of nothing.
  const ratio = green.map((g, at) => Math.log(g / red[at]! + 0.01))
  const alike = (a: number, b: number) =>
    Math.abs(level[a]! - level[b]!) < LEVEL_STEP && Math.abs(ratio[a]! - ratio[b]!) < COLOUR_STEP
  let best: { part: number[]; score: number } | undefined
  for (const part of connectedParts(columns, rows, (at) => usable[at] === 1, alike)) {
    const score = part.length * Math.min(1, median(part.map((at) => red[at]!)) / 0.15)
    if (part.length >= LEAST_BLOCKS && (!best || score > best.score)) best = { part, score }
  }
  if (!best) return { kind: 'none', reason: 'too small' }
  if (litByOthers(blocks, best.part)) return { kind: 'none', reason: 'lit scene' }

  const middle = median(best.part.map((at) => red[at]!))
  const inside = new Uint8Array(kind.length)
  for (const at of best.part) {
    if (Math.abs(Math.log(red[at]! / middle)) < LEVEL_RANGE) inside[at] = 1
  }
  const r = largestRectangle(columns, rows, inside)
  if (r.width * r.height < LEAST_BLOCKS) return { kind: 'none', reason: 'too small' }
  const insetX = r.width > 3 ? EDGE : 0
  const insetY = r.height > 3 ? EDGE : 0
  const at = (r.y + (r.height >> 1)) * columns + r.x + (r.width >> 1)
  return {
    kind: 'found',
    region: {
      shape: 'rectangle',
      x: (r.x + insetX) * size,
      y: (r.y + insetY) * size,
      width: (r.width - 2 * insetX) * size,
      height: (r.height - 2 * insetY) * size,
    },
    redLevel: middle,
    greenOverRed: green[at]! / red[at]!,
    besideClipped: best.part.some((p) => touchesClipped[p] === 1),
  }
}

/**
 * A surface of this colour that gives no more light than much of what surrounds it is likelier
 * painted than glowing. A dull glow in a lit room looks the same (a black body of 1000 K has
 * 3 cd/m², a white wall at 100 lx 30): there the person places the region.
 */
function litByOthers({ kind, luminance }: Blocks, part: readonly number[]): boolean {
  const own = median(part.map((at) => luminance[at]!))
  let bright = 0
  for (let at = 0; at < kind.length; at++) if (kind[at] === OTHER && luminance[at]! > own) bright++
  return bright > LIT_SHARE * kind.length
}

function neighbours(at: number, columns: number, rows: number): number[] {
  const x = at % columns
  const y = (at - x) / columns
  const found: number[] = []
  for (let dy = -1; dy <= 1; dy++) {
    for (let dx = -1; dx <= 1; dx++) {
      const [nx, ny] = [x + dx, y + dy]
      if ((dx || dy) && nx >= 0 && ny >= 0 && nx < columns && ny < rows)
        found.push(ny * columns + nx)
    }
  }
  return found
}
