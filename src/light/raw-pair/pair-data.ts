import { decodeTransfer, encodeTransfer } from '../../colour/rgb-spaces.ts'
import type { Triple } from '../../numerics/matrix3.ts'
import {
  type CodingSteps,
  codingUncertainty,
  UNKNOWN_STEPS,
} from '../exposure-sweep/frame-levels.ts'
import { FLOOR_BLUE, FLOOR_GREEN, FLOOR_RED } from '../image.ts'
import { isClipped, type LightMap } from './light-map.ts'
import { type MapPlace, placeInRaw } from './place-maps.ts'

/** What raw and photo say of the cells that are alike in the raw picture. */
export interface PairDatum {
  /** Camera channels, linear, black taken off. */
  readonly raw: Triple
  /** ln of the photo's light by the nominal transfer function; null where too low to say. */
  readonly nominal: readonly [number | null, number | null, number | null]
  /** Standard uncertainty of each in ln, that of the raw light included. */
  readonly uncertainty: Triple
  /** Mean square of the distance from the middle, half diagonals. */
  readonly radiusSquared: number
  readonly cells: number
}

/** Steps in which raw level and colour are sorted, ln. */
const LEVEL_STEP = 0.25
const COLOUR_STEP = 0.2
/** Change from cell to cell, ln, beyond which sharpening and a fraction of a pixel tell too much. */
const STEEPEST = 0.25
/** How well the two pictures lie on each other, cells. */
const PLACED = 0.15
/** Lowest raw level, full scale 1, and read noise of a pixel; both of a sensor of 12 bits. */
const LEAST_RAW = 2e-4
const READ_NOISE = 5e-4
/** Variance of photon noise over the level: 10,000 electrons fill a pixel. */
const SHOT = 1e-4
/**
 * A curve bends the mean of noisy pixels: by (contrast - 1) / 2 of their relative variance, which the
 * matrix has about doubled.
 */
const CURVED_NOISE = 0.4
/** The photo's lowest code that says something, and share of cells with a channel at 0. */
const LEAST_CODE = 5
const LARGEST_FLOOR_SHARE = 0.02
/** Relative departure of real curves from a smooth one. */
const LEAST_UNCERTAINTY = 0.003
const MOST_DATA = 150

const FLOORS = [FLOOR_RED, FLOOR_GREEN, FLOOR_BLUE] as const
const CHANNELS = [0, 1, 2] as const

interface Bin {
  readonly raw: [number, number, number]
  readonly light: [number, number, number]
  readonly floor: [number, number, number]
  steep: number
  radius: number
  cells: number
}

/** Means over the cells of both maps that are alike, none near a clipped one or at an edge. */
export function pairData(
  photo: LightMap,
  raw: LightMap,
  place: MapPlace,
  steps: CodingSteps = UNKNOWN_STEPS,
): PairDatum[] {
  const bins = new Map<string, Bin>()
  const [middleX, middleY] = [photo.width / 2, photo.height / 2]
  const halfDiagonal = Math.hypot(middleX, middleY)
  for (let y = 1; y < photo.height - 1; y++) {
    for (let x = 1; x < photo.width - 1; x++) {
      const at = y * photo.width + x
      if (clippedNear(photo, x, y)) continue
      const found = rawAt(raw, place, x, y)
      if (!found || !(Math.min(found.raw[0], found.raw[1]) > LEAST_RAW)) continue
      const { raw: levels, steep } = found
      if (steep > STEEPEST) continue
      const bin = binOf(bins, levels)
      for (const c of CHANNELS) {
        bin.raw[c] += levels[c]
        bin.light[c] += photo.light[3 * at + c]!
        if (photo.flags[at]! & FLOORS[c]) bin.floor[c]++
      }
      bin.steep += steep * steep
      bin.radius += ((x - middleX) ** 2 + (y - middleY) ** 2) / halfDiagonal ** 2
      bin.cells++
    }
  }
  const pixels = raw.cell * raw.cell
  return [...bins.values()]
    .sort((a, b) => b.cells - a.cells)
    .slice(0, MOST_DATA)
    .map((bin) => datumOf(bin, pixels, steps))
    .filter(({ nominal }) => nominal[0] !== null || nominal[1] !== null)
}

function clippedNear(map: LightMap, x: number, y: number): boolean {
  for (let j = -1; j <= 1; j++) {
    for (let i = -1; i <= 1; i++) if (isClipped(map, (y + j) * map.width + x + i)) return true
  }
  return false
}

/** Raw light at a cell of the photo, between cells; null outside and near clipped ones. */
function rawAt(raw: LightMap, place: MapPlace, x: number, y: number) {
  const [across, down] = placeInRaw(place, raw, x + 0.5, y + 0.5)
  const [u, v] = [across - 0.5, down - 0.5]
  const [i, j] = [Math.floor(u), Math.floor(v)]
  if (!(i >= 1 && j >= 1 && i < raw.width - 2 && j < raw.height - 2)) return null
  if (clippedNear(raw, i, j) || clippedNear(raw, i + 1, j + 1)) return null
  const [fx, fy] = [u - i, v - j]
  const light = (dx: number, dy: number, c: number) =>
    raw.light[3 * ((j + dy) * raw.width + i + dx) + c]!
  const levels = CHANNELS.map(
    (c) =>
      (1 - fy) * ((1 - fx) * light(0, 0, c) + fx * light(1, 0, c)) +
      fy * ((1 - fx) * light(0, 1, c) + fx * light(1, 1, c)),
  ) as unknown as Triple
  let steep = 0
  for (const c of [0, 1] as const) {
    const across = light(2, 0, c) + light(2, 1, c) - light(-1, 0, c) - light(-1, 1, c)
    const down = light(0, 2, c) + light(1, 2, c) - light(0, -1, c) - light(1, -1, c)
    steep = Math.max(steep, Math.hypot(across, down) / 6 / Math.max(levels[c], 1e-6))
  }
  return { raw: levels, steep: steep / place.scale }
}

function binOf(bins: Map<string, Bin>, [r, g, b]: Triple): Bin {
  const place = (ratio: number, step: number) => Math.round(Math.log(ratio) / step)
  const key = [
    place(r, LEVEL_STEP),
    place(g / r, COLOUR_STEP),
    place(Math.max(b, LEAST_RAW) / g, 2 * COLOUR_STEP),
  ].join()
  const kept = bins.get(key)
  if (kept) return kept
  const bin: Bin = {
    raw: [0, 0, 0],
    light: [0, 0, 0],
    floor: [0, 0, 0],
    steep: 0,
    radius: 0,
    cells: 0,
  }
  bins.set(key, bin)
  return bin
}

function datumOf(bin: Bin, pixels: number, steps: CodingSteps): PairDatum {
  const { cells } = bin
  const each = (f: (c: 0 | 1 | 2) => number): Triple => [f(0), f(1), f(2)]
  const raw = each((c) => bin.raw[c] / cells)
  const light = each((c) => bin.light[c] / cells)
  const code = each((c) => 255 * encodeTransfer(Math.max(light[c], 0)))
  const coding = codingUncertainty(steps, [1, 1, 1])
  const misplaced = PLACED * Math.sqrt(bin.steep / cells / cells)
  const noise = each((c) => {
    const level = Math.max(raw[c], LEAST_RAW)
    const ofPixel = (READ_NOISE ** 2 + SHOT * level) / level ** 2
    return Math.hypot(Math.sqrt(ofPixel / (pixels * cells)), CURVED_NOISE * ofPixel)
  })
  const uncertainty = each((c) => {
    const slope =
      (decodeTransfer((code[c] + 0.5) / 255) - decodeTransfer((code[c] - 0.5) / 255)) /
      Math.max(light[c], 1e-5)
    return Math.hypot(slope * coding[c], misplaced, noise[c], LEAST_UNCERTAINTY)
  })
  const level = (c: 0 | 1 | 2) =>
    bin.floor[c] / cells <= LARGEST_FLOOR_SHARE && code[c] >= LEAST_CODE ? Math.log(light[c]) : null
  return {
    raw,
    nominal: [level(0), level(1), level(2)],
    uncertainty,
    radiusSquared: bin.radius / cells,
    cells,
  }
}
