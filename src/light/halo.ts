/**
 * The halo that sharpening and local contrast leave at the edge of a glow. Both add to a picture what
 * it differs by from its own blur: inside of an edge too much, outside too little. Added to the codes
 * of all channels alike it raises G/R, on each channel by itself it lowers it.
 *
 * Seen as a rim that is brighter than the middle on sides across from each other and whose ratio of
 * channels moves with it as no glow's does. A rim that is hotter moves ln(G/R) by a sixth of what it
 * moves ln R (Wien's law, 532 and 600 nm at 1173 K: 0.0029 and 0.0174 per kelvin), one that is brighter
 * only by nothing; added codes move it by as much as ln R or more.
 */
import { average, median } from '../numerics/statistics.ts'
import type { LightImage, Region } from './image.ts'

export interface Halo {
  /** Standard uncertainty of the region's ln(G/R) by it. */
  readonly lnRatio: number
  /** ln R of the rim above the middle. */
  readonly overshoot: number
  /** Depth over which it falls to half, pixels. */
  readonly reachPixels: number
}

/** Rays that are followed to each side. */
const RAYS = 48
const LEAST_RAYS = 12
/** Depths, pixels: colour at half resolution and the lens's blur reach up to the first one. */
const FROM = 4
const DEEPEST = 160
const LEAST_DEPTHS = 12
/** Overshoot in ln R that is worth a look, and in its own standard uncertainties. */
const LEAST_OVERSHOOT = 0.06
const SIGNIFICANT = 5
/** Linear green, code 25 of 255: below it coding smears the edge of a glow over it. */
const LEAST_GREEN = 0.0097
/** Change of ln(G/R) over that of ln R, outside of which a rim is drawn and not hotter. */
const HOTTER = { from: -0.15, to: 0.4 }
/** How fast the overshoot falls, as 2^-(depth / half depth)^this: between a blur's (2) and slower ones. */
const FALL = 1.5
/** Steps of a mean over depths. */
const STEPS = 24
const SIDES = [
  { dx: 1, dy: 0 },
  { dx: -1, dy: 0 },
  { dx: 0, dy: 1 },
  { dx: 0, dy: -1 },
] as const
const ACROSS = [
  [0, 1],
  [2, 3],
] as const

/** Mean red and green at each depth behind an edge, with the scatter of red between the rays. */
interface Profile {
  readonly red: readonly number[]
  readonly green: readonly number[]
  /** Standard uncertainty of ln R of the rim against the middle. */
  readonly lnRedUncertainty: number
  /** From the middle of the region to the edge, pixels. */
  readonly half: number
}

/**
 * @param glowRed mean red of the region, linear
 * @returns null where no halo shows
 */
export function findHalo(image: LightImage, region: Region, glowRed: number): Halo | null {
  const rims = SIDES.map((side) => {
    const profile = profileTo(image, region, glowRed, side)
    return profile && rimOf(profile)
  })
  const drawn = ACROSS.flatMap(([a, b]) => {
    const [one, other] = [rims[a], rims[b]]
    return one && other && isDrawn(one) && isDrawn(other) ? [one, other] : []
  })
  if (drawn.length === 0) return null
  // Where a glow is narrow its middle is raised too: then only its ends show the whole halo.
  const change = Math.max(...drawn.map((rim) => Math.abs(rim.ratioChange)))
  const halfDepth = Math.max(...drawn.map((rim) => rim.halfDepth))
  const reaching = rims.reduce((sum, rim, side) => {
    const across = SIDES[side]!.dx !== 0 ? region.width : region.height
    return sum + (rim ? shareOver(rim.half - across / 2, rim.half + across / 2, halfDepth) : 0)
  }, 0)
  return {
    // By what law a camera sharpens is not known: nothing is taken off, all of it counts.
    lnRatio: change * reaching,
    overshoot: Math.max(...drawn.map((rim) => rim.overshoot)),
    reachPixels: FROM + halfDepth,
  }
}

/** Mean of the overshoot over depths of a region, in units of that at {@link FROM}. */
function shareOver(nearest: number, deepest: number, halfDepth: number): number {
  let sum = 0
  for (let i = 0; i < STEPS; i++) {
    const depth = nearest + ((i + 0.5) / STEPS) * (deepest - nearest)
    sum += 2 ** -((Math.max(depth - FROM, 0) / halfDepth) ** FALL)
  }
  return sum / STEPS
}

interface Rim {
  readonly overshoot: number
  readonly ratioChange: number
  readonly uncertainty: number
  /** Depth, counted from {@link FROM}, over which the overshoot falls to half. */
  readonly halfDepth: number
  readonly half: number
}

function rimOf({ red, green, lnRedUncertainty, half }: Profile): Rim | null {
  const inner = Math.floor((2 * red.length) / 3)
  const deep = (of: readonly number[]) => median(of.slice(inner))
  const [redIn, greenIn] = [deep(red), deep(green)]
  const [redAt, greenAt] = [red, green].map((of) => (of[FROM]! + of[FROM + 1]!) / 2) as [
    number,
    number,
  ]
  if (!(greenIn > LEAST_GREEN && greenAt > 0)) return null
  const overshoot = Math.log(redAt / redIn)
  const below = red.findIndex((v, depth) => depth > FROM && Math.log(v / redIn) < overshoot / 2)
  return {
    overshoot,
    ratioChange: Math.log(greenAt / redAt) - Math.log(greenIn / redIn),
    uncertainty: lnRedUncertainty,
    halfDepth: Math.max(1, below - FROM),
    half,
  }
}

function isDrawn({ overshoot, ratioChange, uncertainty }: Rim): boolean {
  const clear = overshoot > LEAST_OVERSHOOT && overshoot > SIGNIFICANT * uncertainty
  const slope = ratioChange / overshoot
  return clear && (slope < HOTTER.from || slope > HOTTER.to)
}

/** Follows rays from the middle line of a region to where the glow falls below half of its red. */
function profileTo(
  { width, height, rgb }: LightImage,
  region: Region,
  glowRed: number,
  { dx, dy }: (typeof SIDES)[number],
): Profile | null {
  const centre = {
    x: Math.floor(region.x + region.width / 2),
    y: Math.floor(region.y + region.height / 2),
  }
  const along = 0.6 * (dx !== 0 ? region.height : region.width)
  const count = Math.min(RAYS, Math.floor(along))
  const rays: { red: number[]; green: number[] }[] = []
  for (let i = 0; i < count; i++) {
    const offset = Math.round((i / Math.max(count - 1, 1) - 0.5) * along)
    let [x, y] = [centre.x + (dy !== 0 ? offset : 0), centre.y + (dx !== 0 ? offset : 0)]
    const red: number[] = []
    const green: number[] = []
    for (;;) {
      if (x < 0 || y < 0 || x >= width || y >= height) break
      const at = 3 * (y * width + x)
      if (rgb[at]! < glowRed / 2) {
        // Depth counts from the edge.
        rays.push({ red: red.reverse(), green: green.reverse() })
        break
      }
      red.push(rgb[at]!)
      green.push(rgb[at + 1]!)
      x += dx
      y += dy
    }
  }
  if (rays.length < LEAST_RAYS) return null
  const half = median(rays.map(({ red }) => red.length))
  const depths = Math.min(Math.floor(half), DEEPEST)
  const long = rays.filter(({ red }) => red.length >= depths)
  if (depths < LEAST_DEPTHS || long.length < LEAST_RAYS) return null
  const byDepth = (of: 'red' | 'green') =>
    Array.from({ length: depths }, (_, k) => average(long.map((ray) => ray[of][k]!)))
  const inner = Math.floor((2 * depths) / 3)
  const rims = long.map(({ red }) =>
    Math.log((red[FROM]! + red[FROM + 1]!) / 2 / median(red.slice(inner, depths))),
  )
  const middle = average(rims)
  const squares = rims.reduce((sum, v) => sum + (v - middle) ** 2, 0)
  return {
    red: byDepth('red'),
    green: byDepth('green'),
    lnRedUncertainty: Math.sqrt(squares / (rims.length - 1) / rims.length),
    half,
  }
}
