import { evenness } from '../../../src/estimate/map/evenness.ts'
import { type HeatMap, stateCode } from '../../../src/estimate/map/heat-map.ts'

const COLUMNS = 40
const ROWS = 20

/** A map of 40 by 20 cells with invented temperatures: one cell does not glow, one is clipped. */
export function madeMap(kelvin = (at: number) => 1100 + (at % COLUMNS) + 0.01 * at) {
  const n = COLUMNS * ROWS
  const state = new Uint8Array(n)
  state[0] = stateCode('not glow')
  state[17] = stateCode('clipped')
  const cells = (value: (at: number) => number) =>
    Float32Array.from({ length: n }, (_, at) => (state[at] === 0 ? value(at) : Number.NaN))
  const map: HeatMap = {
    columns: COLUMNS,
    rows: ROWS,
    side: 4,
    left: 100,
    top: 50,
    state,
    temperatureK: cells(kelvin),
    ownK: cells(() => 1.25),
    leaningK: cells((at) => 0.05 * (kelvin(at) - 1120)),
    levelLeaningK: cells(() => 0),
    lnRed: cells(() => -1),
    scale: {
      temperatureK: 1120,
      commonK: 20,
      common95K: 40,
      at: { lnRatio: -2, lnRed: -1 },
      byRatio: { x: [-2.1, -2, -1.9], overK: [-30, 0, 30], leaningK: [-1.5, 0, 1.5] },
      byLevel: null,
    },
    marginPixels: 4,
    blurPixels: 1,
    closer: 1,
  }
  const measured = {
    raw: map.temperatureK,
    noise: map.ownK,
    coding: cells(() => 0),
    blockPixels: 0,
  }
  return { map, evenness: evenness(map, measured, true) }
}
