import { deflateSync, inflateSync } from 'fflate'
import * as v from 'valibot'
import type { Evenness } from '../../estimate/map/evenness.ts'
import { type HeatMap, MAP_STATES, stateCode } from '../../estimate/map/heat-map.ts'
import type { HeatScale } from '../../estimate/map/heat-scale.ts'
import type { StandingOut } from '../../estimate/map/stand-out.ts'
import { lnRatio, temperatureK, wholeWithin, within } from '../../log/schema/quantities.ts'
import type { Json } from '../../log/schema/types.ts'
import type { MadeMap } from '../../sources/map/map-operations.ts'
import { storing } from '../stored-shape.ts'

/** A map as the log keeps it: plain JSON, the cells packed. */
export interface StoredMap {
  readonly version: 1
  readonly columns: number
  readonly rows: number
  /** Pixels of the picture. */
  readonly side: number
  readonly left: number
  readonly top: number
  readonly marginPixels: number
  readonly blurPixels: number | null
  readonly closer: number
  /** Brightest linear red. */
  readonly lnRed: number
  readonly scale: HeatScale
  readonly evenness: Evenness
  /** Planes of 16 and 8 bits, see {@link PLANES}, deflated (RFC 1951), in base64 (RFC 4648). */
  readonly cells: string
}

/** Steps a kelvin: a twentieth is far below what any cell is known to, and 3276 K fit. */
const STEPS = 20
/** In this order: K, 0 for not read; three uncertainties, the last two signed; then states, a byte each. */
const PLANES = 4
/** Cells along a side: maps are made with 240 at most. */
const LONGEST_SIDE = 400
const MOST_CELLS = LONGEST_SIDE ** 2

/** Cells hold 3276 K at most, and what is said of them lies far within these. */
const differenceK = within(-1e5, 1e5)
const spreadK = within(0, 1e5)
const count = wholeWithin(1, LONGEST_SIDE)
const pixels = within(0, 100_000)
const listOf = (number: typeof differenceK) =>
  v.pipe(v.array(number), v.minLength(3), v.maxLength(20))
const table = v.pipe(
  v.object({ x: listOf(lnRatio), overK: listOf(differenceK), leaningK: listOf(differenceK) }),
  v.check(
    ({ x, overK, leaningK }) =>
      x.every((at, i) => i === 0 || at > x[i - 1]!) &&
      overK.length === x.length &&
      leaningK.length === x.length,
  ),
)
const rising = v.pipe(
  table,
  v.check(({ overK }) => overK.every((over, i) => i === 0 || over > overK[i - 1]!)),
)
const place = wholeWithin(0, MOST_CELLS)
const places = v.pipe(v.array(place), v.maxLength(MOST_CELLS))
const standing = (rise: typeof differenceK) =>
  v.pipe(
    v.array(
      v.object({
        cells: places,
        peak: place,
        around: places,
        rise,
        standardUncertainty: spreadK,
        across: pixels,
      }),
    ),
    v.maxLength(10),
  )

const stored = storing<StoredMap>()(
  v.object({
    version: v.literal(1),
    columns: count,
    rows: count,
    side: within(0.5, 100_000),
    left: pixels,
    top: pixels,
    marginPixels: pixels,
    blurPixels: v.nullable(pixels),
    closer: within(1, 1e4),
    lnRed: lnRatio,
    scale: v.object({
      temperatureK,
      commonK: spreadK,
      common95K: spreadK,
      at: v.object({ lnRatio, lnRed: lnRatio }),
      byRatio: rising,
      byLevel: v.nullable(table),
    }),
    evenness: v.object({
      withinK: spreadK,
      ends: v.nullable(
        v.object({
          towards: v.tuple([differenceK, differenceK]),
          differenceK,
          standardUncertaintyK: spreadK,
        }),
      ),
      hottest: place,
      coolest: place,
      spots: standing(differenceK),
      /** In ln of brightness. */
      surface: standing(within(-10, 10)),
      usualOwnK: spreadK,
      leastSpot: v.optional(
        v.nullable(
          v.object({
            riseK: v.nullable(spreadK),
            pixels,
            prevents: v.optional(v.nullable(v.picklist(['tone curve', 'scale', 'noise'])), null),
          }),
        ),
        null,
      ),
    }),
    cells: v.pipe(v.string(), v.maxLength(2_000_000), v.base64()),
  }),
)

/** What is said of a place that stands out is kept, and where its middle lies, not which cells it fills. */
const summed = ({ cells, around: _, ...kept }: StandingOut, columns: number): StandingOut => {
  const mean = (of: (at: number) => number) =>
    Math.round(cells.reduce((sum, at) => sum + of(at), 0) / Math.max(cells.length, 1))
  const middle = columns * mean((at) => Math.floor(at / columns)) + mean((at) => at % columns)
  return { ...kept, cells: cells.length > 0 ? [middle] : [], around: [] }
}

export function packedMap({ map, evenness }: MadeMap): StoredMap {
  const { columns, rows, side, left, top, marginPixels, blurPixels, closer, scale } = map
  const n = columns * rows
  const planes = new Int16Array(PLANES * n)
  const code = (value: number) => {
    const steps = Number.isFinite(value) ? Math.round(STEPS * value) : 0
    return Math.min(Math.max(steps, -32_768), 65_535)
  }
  let brightest = Number.NEGATIVE_INFINITY
  for (let at = 0; at < n; at++) {
    planes[at] = code(map.temperatureK[at]!)
    planes[n + at] = code(map.ownK[at]!)
    planes[2 * n + at] = code(map.leaningK[at]!)
    planes[3 * n + at] = code(map.levelLeaningK[at]!)
    if (Number.isFinite(map.temperatureK[at]!)) brightest = Math.max(brightest, map.lnRed[at]!)
  }
  const bytes = new Uint8Array(2 * PLANES * n + n)
  bytes.set(new Uint8Array(planes.buffer))
  bytes.set(map.state, 2 * PLANES * n)
  return {
    version: 1,
    columns,
    rows,
    side,
    left,
    top,
    marginPixels,
    blurPixels: Number.isFinite(blurPixels) ? blurPixels : null,
    closer,
    lnRed: brightest,
    scale,
    evenness: {
      ...evenness,
      spots: evenness.spots.map((spot) => summed(spot, columns)),
      surface: evenness.surface.map((part) => summed(part, columns)),
    },
    cells: toBase64(deflateSync(bytes, { level: 9 })),
  }
}

export const mapShape = v.object({ map: stored })

/** The map in the details of a reading; null where there is none that can be shown. */
export function storedMap(details: Json): MadeMap | null {
  const parsed = v.safeParse(mapShape, details)
  if (!parsed.success) return null
  const { columns, rows, cells, evenness, lnRed, version: _, ...rest } = parsed.output.map
  const n = columns * rows
  const bytes = new Uint8Array(2 * PLANES * n + n)
  try {
    // The buffer bounds what a hostile text can unfold to.
    if (inflateSync(fromBase64(cells), { out: bytes }).length !== bytes.length) return null
  } catch {
    return null
  }
  const unsigned = new Uint16Array(bytes.buffer, 0, 2 * n)
  const signed = new Int16Array(bytes.buffer, 4 * n, 2 * n)
  const state = bytes.slice(2 * PLANES * n)
  if (!state.every((code) => code < MAP_STATES.length)) return null
  const read = (at: number) => state[at] === stateCode('read') && unsigned[at]! > 0
  const plane = (of: Uint16Array | Int16Array, from: number) =>
    Float32Array.from({ length: n }, (_, at) => (read(at) ? of[from + at]! / STEPS : Number.NaN))
  const kelvins = plane(unsigned, 0)
  if (!kelvins.every((kelvin) => Number.isNaN(kelvin) || v.is(temperatureK, kelvin))) return null
  const { hottest, coolest, spots, surface } = evenness
  const peaks = [hottest, coolest, ...[...spots, ...surface].map(({ peak }) => peak)]
  if (!peaks.every((at) => Number.isFinite(kelvins[at]))) return null
  const map: HeatMap = {
    ...rest,
    blurPixels: rest.blurPixels ?? Number.NaN,
    columns,
    rows,
    state,
    temperatureK: kelvins,
    ownK: plane(unsigned, n),
    leaningK: plane(signed, 0),
    levelLeaningK: plane(signed, n),
    lnRed: kelvins.map((kelvin) => (Number.isNaN(kelvin) ? Number.NaN : lnRed)),
  }
  return { map, evenness }
}

const CHUNK = 8192

function toBase64(bytes: Uint8Array): string {
  let text = ''
  for (let from = 0; from < bytes.length; from += CHUNK)
    text += String.fromCharCode(...bytes.subarray(from, from + CHUNK))
  return btoa(text)
}

const fromBase64 = (text: string): Uint8Array =>
  Uint8Array.from(atob(text), (char) => char.charCodeAt(0))
