import { type ReadonlySignal, type Signal, signal } from '@preact/signals'
import type { LiveLine } from '../../estimate/live/live-line.ts'
import type { HeatMap } from '../../estimate/map/heat-map.ts'
import type { CellGrid, Point } from '../../estimate/map/profile.ts'
import { evenBox } from '../../light/live/frame-codes.ts'
import { LIVE_DARK, LIVE_READ, LiveCells } from '../../light/live/live-cells.ts'
import { inRegion } from '../../light/region.ts'
import { median } from '../../numerics/statistics.ts'
import { type MapBench, openMapBench } from '../../sources/map/map-client.ts'
import { coarseMeans } from './coarse-means.ts'
import type { LiveModel } from './live-model-type.ts'
import { createLiveScale, type LiveColours } from './live-scale.ts'
import { type LiveTable, liveTable } from './live-table.ts'

/** Between which temperatures a live map's colours run, and how sure it is. */
export interface LiveScale {
  readonly lowK: number
  readonly highK: number
  /** Half of the 95 % interval of what shifts the whole map, K. */
  readonly common95K: number
  /** Standard uncertainty of a usual cell by noise, K. */
  readonly ownK: number
  /** Width left out along outlines, pixels of the frame. */
  readonly marginPixels: number
  /** Whether it differs by more than noise: else that alone would draw the lines. */
  readonly uneven: boolean
  /** Temperatures of larger cells, for lines and bands; NaN where there is none. */
  readonly coarse: CellGrid & Pick<HeatMap, 'temperatureK'>
}

/** A place of the live map that is read. */
export type LivePlace =
  | {
      readonly kind: 'read'
      readonly temperatureK: number
      readonly expandedUncertaintyK: number
      /** Over the sight, with its standard uncertainty. */
      readonly overSightK: number
      readonly overSightUncertaintyK: number
    }
  /** Its uncertainty is not known: the scale is being worked out, or noise was not yet seen. */
  | { readonly kind: 'not yet' }
  /** It could not be worked out, several times; it is tried again. */
  | { readonly kind: 'failed' }
  | { readonly kind: 'not read'; readonly state: number }

export interface LiveMap {
  readonly cells: LiveCells
  /** Null before the first figure; another one every few frames. */
  readonly scale: ReadonlySignal<LiveScale | null>
  /** Pixels of the frame; null: none. */
  readonly place: Signal<Point | null>
  readonly reading: ReadonlySignal<LivePlace | null>
  /** Writes RGBA of each cell, 4 bytes; not read ones are grey, dark ones clear. */
  paint(rgba: Uint8ClampedArray, shades: Uint8Array): void
  dispose(): void
}

/** Scale ends follow the picture so fast; faster would flicker. */
const SCALE_WEIGHT = 0.1
/** Every so many frames. */
const SCALE_FRAMES = 5
/** Share of the cells at each end that the scale need not reach. */
const ENDS = 0.01
const LEAST_SPAN_K = 12
const NOISE_SPANS = 12
/** Between its ends noise alone makes five standard uncertainties of a cell. */
const NOISE_RANGE = 8
/** Every so many-th cell tells the range. */
const RANGE_STEP = 7
/** Fewer of them show none. */
const LEAST_CELLS = 12
const GREY = [128, 128, 128, 90] as const

/**
 * The map over the live picture: each frame's cells against those of the sight, whose temperature is
 * that of the figure.
 *
 * @param onMap called after each frame that was mapped
 */
export function createLiveMap(
  model: Pick<LiveModel, 'camera' | 'held' | 'pause' | 'region' | 'onReading'>,
  onMap: () => void,
  openBench: () => MapBench = openMapBench,
): LiveMap {
  const cells = new LiveCells()
  const scale = signal<LiveScale | null>(null)
  const place = signal<Point | null>(null)
  const reading = signal<LivePlace | null>(null)
  const scaler = createLiveScale(openBench, () => performance.now())
  let figure: { readonly line: LiveLine; readonly temperatureK: number } | null = null
  let table: LiveTable | null = null
  let busy = false
  let closed = false
  let frames = 0
  const stopReading = model.onReading((frame) => {
    const line = 'line' in frame ? frame.line : null
    if (line?.estimate.kind !== 'temperature' || line.slopeK === null || !('plain' in frame)) {
      figure = null
      table = null
      cells.clear()
      return
    }
    const moved = line.slopeK * (frame.plain - frame.anchor)
    figure = { line, temperatureK: line.estimate.temperatureK + moved }
  })

  const look = async () => {
    if (busy || closed || model.held.peek() || model.pause.peek()) return
    const frame = model.camera.frame()
    if (!frame) return
    busy = true
    try {
      const { width, height } = frame
      const whole = evenBox({ left: 0, top: 0, right: width, bottom: height }, width, height)
      const pixels = await frame.copy(whole)
      if (closed) return
      cells.add(pixels)
      if (frames++ % SCALE_FRAMES === 0) follow()
      onMap()
    } catch {
      // The frame went away; the next one comes.
    } finally {
      frame.close()
      busy = false
    }
  }

  /** Colours of the sight's cells and of the whole; null where too little of either is read. */
  const colours = (): LiveColours | null => {
    const region = model.region.peek()
    const { columns, side, lnRatio, red, state } = cells
    const [ratios, reds, here, hereRed]: number[][] = [[], [], [], []]
    for (let at = 0; at < state.length; at++) {
      if (state[at] !== LIVE_READ) continue
      if (at % RANGE_STEP === 0) {
        ratios!.push(lnRatio[at]!)
        reds!.push(red[at]!)
      }
      const x = ((at % columns) + 0.5) * side - 0.5
      const y = (Math.floor(at / columns) + 0.5) * side - 0.5
      if (!region || !inRegion(region, x, y)) continue
      here!.push(lnRatio[at]!)
      hereRed!.push(red[at]!)
    }
    if (ratios!.length < LEAST_CELLS || here!.length === 0) return null
    const share = (of: number[]) => {
      of.sort((a, b) => a - b)
      return (at: number) => of[Math.round(at * (of.length - 1))]!
    }
    const [ratioAt, redAt] = [share(ratios!), share(reds!)]
    return {
      lnRatio: median(here!),
      lnRed: Math.log(median(hereRed!)),
      ratios: [ENDS, 0.25, 0.5, 0.75, 1 - ENDS].map(ratioAt),
      levels: [Math.log(redAt(ENDS)), Math.log(redAt(1 - ENDS))],
    }
  }

  const follow = () => {
    const now = figure
    const seen = now && colours()
    const over = now && scaler.over(now.line)
    if (!now || !seen || !over) {
      table = null
      scale.value = null
      reading.value = null
      return
    }
    scaler.follow(now.line, seen)
    table = liveTable(over, seen, now.temperatureK)
    const kelvin = (ratio: number) => now.temperatureK + over.overK(ratio - seen.lnRatio)
    const [low, high] = [kelvin(seen.ratios[0]!), kelvin(seen.ratios.at(-1)!)]
    const slopeK = now.line.slopeK!
    const ownK = slopeK * cells.lnNoise
    // No less than a range in which noise does not fill the scale.
    const least = Math.max(LEAST_SPAN_K, NOISE_SPANS * (Number.isFinite(ownK) ? ownK : 0))
    const more = Math.max(least - (high - low), 0) / 2
    const before = scale.peek()
    const span = high - low + 2 * more
    // Another height, by a new estimate: at once. What noise moves, slowly.
    const towards = (from: number | undefined, to: number) =>
      from === undefined || Math.abs(to - from) > span / 4 ? to : from + SCALE_WEIGHT * (to - from)
    const { estimate } = now.line
    const common95K = estimate.kind === 'temperature' ? estimate.expandedUncertaintyK : Number.NaN
    const read = table
    scale.value = {
      lowK: towards(before?.lowK, low - more),
      highK: towards(before?.highK, high + more),
      common95K,
      ownK,
      marginPixels: cells.marginPixels,
      uneven: high - low > NOISE_RANGE * ownK,
      coarse: coarseMeans(cells, (at) => read.kelvin(cells.lnRatio[at]!, cells.red[at]!)),
    }
    reading.value = placeNow(over, seen, common95K, ownK)
  }

  function placeNow(
    over: NonNullable<ReturnType<typeof scaler.over>>,
    seen: LiveColours,
    common95K: number,
    ownK: number,
  ): LivePlace | null {
    const point = place.peek()
    if (!point || !table || !figure) return null
    const { columns, rows, side, state, lnRatio, red } = cells
    const [column, row] = [Math.floor(point.x / side), Math.floor(point.y / side)]
    if (column < 0 || row < 0 || column >= columns || row >= rows) return null
    const at = row * columns + column
    if (state[at] !== LIVE_READ) return { kind: 'not read', state: state[at]! }
    const apart = Math.hypot(
      ownK,
      over.leaningK(lnRatio[at]! - seen.lnRatio),
      over.levelLeaningK(Math.log(red[at]!) - seen.lnRed),
    )
    if (!Number.isFinite(apart)) return { kind: scaler.failing ? 'failed' : 'not yet' }
    const temperatureK = table.kelvin(lnRatio[at]!, red[at]!)
    return {
      kind: 'read',
      temperatureK,
      expandedUncertaintyK: Math.hypot(common95K, 2 * apart),
      overSightK: temperatureK - figure.temperatureK,
      overSightUncertaintyK: apart,
    }
  }

  const stopFrames = model.camera.onFrame(() => void look())
  return {
    cells,
    scale,
    place,
    reading,
    paint(rgba, shades) {
      const range = scale.peek()
      const read = table
      const { lnRatio, red, state } = cells
      const last = shades.length / 3 - 1
      const step = range ? last / (range.highK - range.lowK) : 0
      for (let cell = 0, to = 0; cell < state.length; cell++, to += 4) {
        if (state[cell] !== LIVE_READ || !read || !range) {
          const clear = state[cell] === LIVE_DARK || !read || !range
          for (let c = 0; c < 4; c++) rgba[to + c] = clear ? 0 : GREY[c]!
          continue
        }
        const kelvin = read.kelvin(lnRatio[cell]!, red[cell]!)
        const shade = 3 * Math.min(Math.max(((kelvin - range.lowK) * step + 0.5) | 0, 0), last)
        rgba[to] = shades[shade]!
        rgba[to + 1] = shades[shade + 1]!
        rgba[to + 2] = shades[shade + 2]!
        rgba[to + 3] = 255
      }
    },
    dispose() {
      closed = true
      stopFrames()
      stopReading()
      scaler.close()
    },
  }
}
