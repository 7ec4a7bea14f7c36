import type { LiveLine } from '../../estimate/live/live-line.ts'
import { type HeatScale, scaleCurves } from '../../estimate/map/heat-scale.ts'
import type { MapBench } from '../../sources/map/map-client.ts'

/** A live picture's colours about those of the sight. */
export interface LiveColours {
  /** ln(G/R) and ln of the linear red of the sight's cells, as the map sees them. */
  readonly lnRatio: number
  readonly lnRed: number
  /** Lowest, quarter points and highest of the picture, rising. */
  readonly ratios: readonly number[]
  readonly levels: readonly [number, number]
}

/** From ln(G/R) and ln(red) over those of the sight to kelvin over the sight's temperature. */
export interface OverSight {
  overK(lnRatio: number): number
  levelOverK(lnRed: number): number
  /** Standard uncertainty against the sight, K; NaN until the scale was worked out. */
  leaningK(lnRatio: number): number
  levelLeaningK(lnRed: number): number
  /** Whether another level changes the reading: the tone curve is not known. */
  readonly byLevel: boolean
}

/** Between two scales that are worked out, ms: each takes the worker some tenths of a second. */
const AGAIN_MS = 4000
/** After so many failures in a row the last scale is too old to be believed. */
const MOST_FAILURES = 2

/**
 * The scale of a live map, worked out in a worker now and then by the estimate itself; until the first
 * one is there 1/T runs straight in ln(G/R) (Wien), which knows no uncertainty.
 */
export function createLiveScale(openBench: () => MapBench, nowMs: () => number) {
  let bench: MapBench | null = null
  let table: HeatScale | null = null
  let askedMs = Number.NEGATIVE_INFINITY
  let closed = false
  let failures = 0

  return {
    /** Whether it could not be worked out lately: then none is given, and it is tried again. */
    get failing(): boolean {
      return failures >= MOST_FAILURES
    },
    over(line: LiveLine): OverSight | null {
      const { estimate, slopeK } = line
      if (estimate.kind !== 'temperature' || slopeK === null) return null
      if (!table) {
        const inverse = 1 / estimate.temperatureK
        const rate = -slopeK * inverse * inverse
        return {
          overK: (v) => 1 / (inverse + rate * v) - estimate.temperatureK,
          levelOverK: () => 0,
          leaningK: () => Number.NaN,
          levelLeaningK: () => 0,
          byLevel: false,
        }
      }
      const { at, temperatureK, byLevel } = table
      const curves = scaleCurves(table)
      return {
        overK: (v) => curves.temperatureK(at.lnRatio + v, at.lnRed) - temperatureK,
        levelOverK: (v) => curves.temperatureK(at.lnRatio, at.lnRed + v) - temperatureK,
        leaningK: (v) => curves.leaningK(at.lnRatio + v),
        levelLeaningK: (v) => curves.levelLeaningK(at.lnRed + v),
        byLevel: byLevel !== null,
      }
    },
    /** Has the scale worked out anew where it is time. */
    follow(line: LiveLine, colours: LiveColours): void {
      const { estimate, input, lnRatio } = line
      if (closed || estimate.kind !== 'temperature' || nowMs() - askedMs < AGAIN_MS) return
      askedMs = nowMs()
      bench ??= openBench()
      const lnRed = Math.log(input.glow.mean[0])
      bench
        .scale({
          input,
          estimate,
          // A card or a known curve moves all colours alike: differences from the sight stay.
          at: { lnRatio, lnRed },
          ratios: colours.ratios.map((v) => lnRatio + v - colours.lnRatio),
          levels: [
            lnRed + colours.levels[0] - colours.lnRed,
            lnRed + colours.levels[1] - colours.lnRed,
          ],
        })
        .then(
          (scale) => {
            failures = 0
            table = scale
          },
          (error: unknown) => {
            // A later one has taken its place.
            if ((error as Error).name === 'AbortError') return
            failures++
            if (failures >= MOST_FAILURES) table = null
            // A worker that is gone answers nothing any more: the next one has its own.
            bench?.close()
            bench = null
          },
        )
    },
    close(): void {
      closed = true
      bench?.close()
    },
  }
}
