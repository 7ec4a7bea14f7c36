import { type ReadonlySignal, signal } from '@preact/signals'
import type { LiveLine } from '../../estimate/live/live-line.ts'
import { evenBox } from '../../light/live/frame-codes.ts'
import { LIVE_DARK, LIVE_READ, LiveCells } from '../../light/live/live-cells.ts'
import type { LiveModel } from './live-model-type.ts'

/** Between which temperatures a live map's colours run, and how sure it is. */
export interface LiveScale {
  readonly lowK: number
  readonly highK: number
  /** Half of the 95 % interval of what shifts the whole map, K. */
  readonly common95K: number
  /** Standard uncertainty of a usual cell by noise, K. */
  readonly ownK: number
}

export interface LiveMap {
  readonly cells: LiveCells
  /** Null before the first figure. */
  readonly scale: ReadonlySignal<LiveScale | null>
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
const GREY = [128, 128, 128, 90] as const

/**
 * The map over the live picture: each frame's cells by the line of the latest whole estimate.
 *
 * @param onMap called after each frame that was mapped
 */
export function createLiveMap(
  model: Pick<LiveModel, 'camera' | 'held' | 'pause' | 'onReading'>,
  onMap: () => void,
): LiveMap {
  const cells = new LiveCells()
  const scale = signal<LiveScale | null>(null)
  let at: { readonly line: LiveLine; readonly anchor: number } | null = null
  let busy = false
  let closed = false
  let frames = 0
  const stopReading = model.onReading((frame) => {
    at = 'line' in frame ? { line: frame.line, anchor: frame.anchor } : null
    if (at === null) cells.clear()
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

  const lineNow = () => {
    if (at?.line.estimate.kind !== 'temperature' || at.line.slopeK === null) return null
    const { temperatureK, expandedUncertaintyK } = at.line.estimate
    // 1/T is straight in ln(G/R) (Wien), within 1 K over 60 K.
    const inverse = 1 / temperatureK
    const rate = -at.line.slopeK * inverse * inverse
    return { inverse, rate, anchor: at.anchor, expandedUncertaintyK, slopeK: at.line.slopeK }
  }

  const follow = () => {
    const line = lineNow()
    if (!line) {
      scale.value = null
      return
    }
    const read = cells.lnRatio.filter((v) => !Number.isNaN(v)).sort()
    if (read.length === 0) return
    const end = Math.floor(ENDS * read.length)
    const kelvin = (v: number) => 1 / (line.inverse + line.rate * (v - line.anchor))
    const [low, high] = [kelvin(read[end]!), kelvin(read.at(-1 - end)!)]
    const more = Math.max(LEAST_SPAN_K - (high - low), 0) / 2
    const before = scale.peek()
    const span = high - low + 2 * more
    // Another height, by a new estimate: at once. What noise moves, slowly.
    const towards = (from: number | undefined, to: number) =>
      from === undefined || Math.abs(to - from) > span / 4 ? to : from + SCALE_WEIGHT * (to - from)
    scale.value = {
      lowK: towards(before?.lowK, low - more),
      highK: towards(before?.highK, high + more),
      common95K: line.expandedUncertaintyK,
      ownK: line.slopeK * cells.lnNoise,
    }
  }

  const stopFrames = model.camera.onFrame(() => void look())
  return {
    cells,
    scale,
    paint(rgba, shades) {
      const line = lineNow()
      const range = scale.peek()
      const { lnRatio, state } = cells
      const last = shades.length / 3 - 1
      const step = range ? last / (range.highK - range.lowK) : 0
      for (let cell = 0, to = 0; cell < state.length; cell++, to += 4) {
        if (state[cell] !== LIVE_READ || !line || !range) {
          const clear = state[cell] === LIVE_DARK || !line || !range
          for (let c = 0; c < 4; c++) rgba[to + c] = clear ? 0 : GREY[c]!
          continue
        }
        const kelvin = 1 / (line.inverse + line.rate * (lnRatio[cell]! - line.anchor))
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
    },
  }
}
