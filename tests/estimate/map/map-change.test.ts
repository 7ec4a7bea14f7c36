import { expect, test } from 'vitest'
import {
  type HeatMap,
  heatMapOn,
  MAP_STATES,
  stateCode,
} from '../../../src/estimate/map/heat-map.ts'
import {
  changeSummary,
  isChange,
  type MapChange,
  mapChange,
} from '../../../src/estimate/map/map-change.ts'
import type { HeatCells } from '../../../src/light/map/heat-cells.ts'
import { normal } from '../../light/pictures.ts'

const COLUMNS = 90
const ROWS = 50
const SIDE = 4
const READINGS = { differenceK: 20, standardUncertaintyK: 3, oneCamera: true }

interface Made {
  /** By how many cells what is seen is displaced. */
  readonly moved?: readonly [number, number]
  readonly kelvin: (x: number, y: number) => number
  readonly ownK?: number
  readonly noise?: () => number
  readonly scaleK: number
  /** Width and height of the bar, cells. */
  readonly size?: readonly [number, number]
}

/** A bar in the middle of the view; places are those of the bar before it was moved. */
function viewOf({
  moved = [0, 0],
  kelvin,
  ownK = 1,
  noise = () => 0,
  scaleK,
  size = [60, 20],
}: Made) {
  const n = COLUMNS * ROWS
  const state = new Uint8Array(n).fill(stateCode('not glow'))
  const temperatureK = new Float32Array(n).fill(Number.NaN)
  for (let at = 0; at < n; at++) {
    const x = (at % COLUMNS) - moved[0]
    const y = Math.floor(at / COLUMNS) - moved[1]
    const inside = (margin: number) =>
      Math.abs(x - COLUMNS / 2) <= size[0] / 2 - margin &&
      Math.abs(y - ROWS / 2) <= size[1] / 2 - margin
    if (inside(0)) state[at] = stateCode(inside(2) ? 'read' : 'edge')
    if (inside(2)) temperatureK[at] = kelvin(x, y) + noise()
  }
  const each = (value: (kelvin: number) => number) =>
    temperatureK.map((k) => (Number.isNaN(k) ? Number.NaN : value(k)))
  const map: HeatMap = {
    columns: COLUMNS,
    rows: ROWS,
    side: SIDE,
    left: 40,
    top: 24,
    state,
    temperatureK,
    ownK: each(() => ownK),
    leaningK: each((k) => 0.05 * (k - scaleK)),
    levelLeaningK: each(() => 0),
    lnRed: each(() => -1),
    scale: {
      temperatureK: scaleK,
      commonK: 20,
      common95K: 40,
      at: { lnRatio: -2, lnRed: -1 },
      byRatio: { x: [-2.1, -2, -1.9], overK: [-30, 0, 30], leaningK: [-1.5, 0, 1.5] },
      byLevel: null,
    },
    marginPixels: 8,
    blurPixels: 1,
    closer: 1,
  }
  return map
}

function changeOf(earlier: HeatMap, later: HeatMap, readings = READINGS): MapChange {
  const found = mapChange(earlier, later, readings)
  if (found.kind !== 'change') throw new Error(found.kind)
  return found
}

const slope = (x: number) => 1100 + x

test('a displaced later picture is laid on the earlier one, and each place is compared with itself', () => {
  const earlier = viewOf({ kelvin: slope, scaleK: 1145 })
  const later = viewOf({ kelvin: (x) => slope(x) + 20, scaleK: 1165, moved: [7, -4] })
  const { shift, changeK } = changeOf(earlier, later)
  expect(Math.abs(shift.dx - 7 * SIDE)).toBeLessThan(0.5 * SIDE)
  expect(Math.abs(shift.dy + 4 * SIDE)).toBeLessThan(0.5 * SIDE)
  const read = changeK.filter(Number.isFinite)
  expect(read.length).toBeGreaterThan(800)
  // A misplacement of half a cell is half a kelvin on this slope.
  for (const change of read) expect(Math.abs(change - 20)).toBeLessThan(0.6)
})

/** The same view in cells of twice the side, its upper left corner elsewhere in the picture. */
function coarse(map: HeatMap): HeatMap {
  const [columns, rows] = [COLUMNS / 2, ROWS / 2]
  const every = <T extends Float32Array | Uint8Array>(of: T): T =>
    of.filter((_, at) => (at % COLUMNS) % 2 === 0 && Math.floor(at / COLUMNS) % 2 === 0) as T
  const { state, temperatureK, ownK, leaningK, levelLeaningK, lnRed } = map
  return {
    ...map,
    columns,
    rows,
    side: 2 * SIDE,
    // The middle of the first of two cells is the middle of both.
    left: map.left - SIDE / 2,
    top: map.top - SIDE / 2,
    state: every(state),
    temperatureK: every(temperatureK),
    ownK: every(ownK),
    leaningK: every(leaningK),
    levelLeaningK: every(levelLeaningK),
    lnRed: every(lnRed),
  }
}

test.each([
  ['coarser', (map: HeatMap) => map, coarse],
  ['finer', coarse, (map: HeatMap) => map],
] as const)(
  'a later picture of %s cells is laid on the earlier one all the same',
  (_, of, ofLater) => {
    const earlier = of(viewOf({ kelvin: slope, scaleK: 1145 }))
    const later = ofLater(viewOf({ kelvin: (x) => slope(x) + 20, scaleK: 1165, moved: [8, -4] }))
    const { shift, changeK, columns, rows, againstMiddleK } = changeOf(earlier, later)
    expect([columns, rows]).toEqual([earlier.columns, earlier.rows])
    expect(Math.abs(shift.dx - 8 * SIDE)).toBeLessThan(SIDE)
    expect(Math.abs(shift.dy + 4 * SIDE)).toBeLessThan(SIDE)
    const read = changeK.filter(Number.isFinite)
    expect(read.length).toBeGreaterThan(150)
    // A misplacement of a fine cell is a kelvin on this slope.
    for (const change of read) expect(Math.abs(change - 20)).toBeLessThan(1.1)
    // 0.3 of a coarse cell, 2 K wide, and the noise of both.
    const usual = againstMiddleK.filter(Number.isFinite).sort()
    expect(usual[usual.length >> 1]).toBeCloseTo(Math.hypot(1, 1, 0.6), 1)
  },
)

test('what both maps share drops out: same colours leave the difference of the readings alone', () => {
  const earlier = viewOf({ kelvin: () => 1150, scaleK: 1150, ownK: 0 })
  const later = viewOf({ kelvin: () => 1170, scaleK: 1170, ownK: 0 })
  const found = changeOf(earlier, later)
  expect(found.middleK).toBeCloseTo(20, 3)
  expect(found.middleUncertaintyK).toBeCloseTo(3, 6)
  // A place 20 K beside both readings leans alike in both.
  const beside = (scaleK: number) =>
    viewOf({ kelvin: (x) => scaleK + (x > 60 ? 20 : 0), scaleK, ownK: 0 })
  const one = changeOf(beside(1150), beside(1170))
  const two = changeOf(beside(1150), beside(1170), { ...READINGS, oneCamera: false })
  const at = 25 * COLUMNS + 66
  expect(one.standardUncertaintyK[at]).toBeCloseTo(3, 5)
  // Two cameras: each by 0.05 of 20 K (JCGM 100:2008, equation 10).
  expect(two.standardUncertaintyK[at]).toBeCloseTo(Math.hypot(3, 1, 1), 5)
})

test('a spot that grew stands out, the rest is not told to have changed', () => {
  const noise = normal(5)
  const spot = (x: number, y: number) => 40 * Math.exp(-((x - 60) ** 2 + (y - 25) ** 2) / 18)
  const earlier = viewOf({ kelvin: () => 1150, scaleK: 1150, noise })
  const later = viewOf({ kelvin: (x, y) => 1150 + spot(x, y), scaleK: 1150, noise, moved: [3, 2] })
  const found = changeOf(earlier, later, { ...READINGS, differenceK: 0 })
  const { most, least, hotter, cooler } = changeSummary(found.changeK, found.standardUncertaintyK)
  expect(most! % COLUMNS).toBeGreaterThan(57)
  expect(most! % COLUMNS).toBeLessThan(63)
  expect(Math.floor(most! / COLUMNS)).toBeGreaterThan(22)
  expect(hotter).toBeGreaterThan(0.03)
  expect(hotter).toBeLessThan(0.12)
  expect(cooler).toBeLessThan(0.01)
  expect(
    least === null || isChange(found.changeK[least]!, found.standardUncertaintyK[least]!),
  ).toBe(true)
})

test('of two alike maps about one cell in twenty stands out by chance, of the uneven part', () => {
  const noise = normal(8)
  const pair = () => viewOf({ kelvin: slope, scaleK: 1145, noise })
  const { changeK, againstMiddleK, middleK } = changeOf(pair(), pair(), {
    ...READINGS,
    differenceK: 0,
  })
  const against = changeK.map((change) => change - middleK)
  const { hotter, cooler } = changeSummary(against, againstMiddleK)
  // 900 cells, each 0.05; the alignment's part makes it fewer.
  expect(hotter + cooler).toBeGreaterThan(0.01)
  expect(hotter + cooler).toBeLessThan(0.07)
})

test('another outline, or one that moved too far, is refused', () => {
  const earlier = viewOf({ kelvin: slope, scaleK: 1145 })
  const turned = viewOf({ kelvin: slope, scaleK: 1145, size: [16, 44] })
  expect(mapChange(earlier, turned, READINGS).kind).toBe('other view')
  const narrow = viewOf({ kelvin: slope, scaleK: 1145, size: [60, 3] })
  expect(mapChange(narrow, narrow, READINGS)).toEqual({ kind: 'too few', cells: 0 })
})

test('two views are one where their glows go together by 0.9', () => {
  const earlier = viewOf({ kelvin: slope, scaleK: 1145 })
  const narrower = (width: number) =>
    mapChange(earlier, viewOf({ kelvin: slope, scaleK: 1145, size: [width, 20] }), READINGS)
  let width = 60
  while (narrower(width).kind === 'change') width -= 2
  const refused = narrower(width)
  expect(refused.kind).toBe('other view')
  // Two cells of width are some hundredths of it.
  if (refused.kind !== 'other view') return
  expect(refused.correlation).toBeLessThan(0.9)
  expect(refused.correlation).toBeGreaterThan(0.85)
})

test('a change is told of twelve cells at least', () => {
  // Two cells of each edge are not read: rows of one, 11 and 13 wide.
  const small = (width: number) => {
    const view = viewOf({ kelvin: slope, scaleK: 1145, size: [width, 4] })
    return mapChange(view, view, READINGS)
  }
  expect(small(15)).toMatchObject({ kind: 'too few', cells: 11 })
  expect(small(16).kind).toBe('change')
})

test('at the edge of the picture a place is as sure as elsewhere', () => {
  const wide = viewOf({ kelvin: slope, scaleK: 1145, size: [200, 20] })
  const { againstMiddleK } = changeOf(wide, wide, { ...READINGS, differenceK: 0 })
  const at = (column: number) => againstMiddleK[25 * COLUMNS + column]
  // A misplacement of 0.3 of a cell on a slope of 1 K a cell, and the noise of both.
  for (const column of [0, 1, 45, COLUMNS - 2, COLUMNS - 1])
    expect(at(column)).toBeCloseTo(Math.hypot(1, 1, 0.3), 5)
})

test('a map ends where readings do, at 900 K', () => {
  const { scale } = viewOf({ kelvin: slope, scaleK: 900 })
  const at = (kelvin: number) => {
    // 300 K for 1 in ln(G/R), from -2 on.
    const one = Float32Array.of(-2 + (kelvin - 900) / 300)
    const none = new Float32Array(1)
    const cells = {
      columns: 1,
      rows: 1,
      state: new Uint8Array(1),
      lnRatio: one,
      lnRed: none,
      lnStep: none,
      lnCoding: none,
      blockPixels: 0,
    } as unknown as HeatCells
    const map = heatMapOn(scale, cells, { lnRatio: one, lnNoise: none })
    return [MAP_STATES[map.state[0]!], Math.round(map.temperatureK[0]!)]
  }
  expect(at(910)).toEqual(['read', 910])
  expect(at(890)).toEqual(['below range', Number.NaN])
})
