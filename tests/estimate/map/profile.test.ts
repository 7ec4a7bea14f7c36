import { expect, test } from 'vitest'
import { bandShares } from '../../../src/estimate/map/band-shares.ts'
import { type HeatMap, stateCode } from '../../../src/estimate/map/heat-map.ts'
import { cellAt, cellCentre, profileAlong, soak } from '../../../src/estimate/map/profile.ts'
import { compareProfiles } from '../../../src/estimate/map/profile-pair.ts'
import { standingOut } from '../../../src/estimate/map/stand-out.ts'
import { trend } from '../../../src/estimate/map/trend.ts'
import { normal } from '../../light/pictures.ts'

const COLUMNS = 40
const ROWS = 20

/** A map of invented temperatures, 4 pixels a cell, upper left at 100, 50. */
function mapOf(kelvin: (column: number, row: number) => number): HeatMap {
  const n = COLUMNS * ROWS
  const each = <T extends Float32Array | Uint8Array>(array: T, of: (at: number) => number): T => {
    for (let at = 0; at < n; at++) array[at] = of(at)
    return array
  }
  const temperatureK = each(new Float32Array(n), (at) =>
    kelvin(at % COLUMNS, Math.floor(at / COLUMNS)),
  )
  return {
    columns: COLUMNS,
    rows: ROWS,
    side: 4,
    left: 100,
    top: 50,
    temperatureK,
    state: each(new Uint8Array(n), (at) =>
      stateCode(Number.isNaN(temperatureK[at]!) ? 'edge' : 'read'),
    ),
    ownK: each(new Float32Array(n), () => 1),
    leaningK: each(new Float32Array(n), (at) => 0.05 * (temperatureK[at]! - 1150)),
    levelLeaningK: new Float32Array(n),
    lnRed: new Float32Array(n),
    scale: {
      temperatureK: 1150,
      commonK: 20,
      common95K: 40,
      at: { lnRatio: -2, lnRed: -1 },
      byRatio: { x: [-2.1, -2, -1.9], overK: [-30, 0, 30], leaningK: [-1, 0, 1] },
      byLevel: null,
    },
    marginPixels: 4,
    blurPixels: 1,
    closer: 1,
  }
}

const fieldOf = ({ temperatureK, ownK }: HeatMap) => ({
  columns: COLUMNS,
  values: temperatureK,
  uncertainty: ownK,
  raw: temperatureK,
  noise: ownK,
  crowded: false,
})

test('a line over a gradient gives its temperatures in order, in pixels of the picture', () => {
  const map = mapOf((column) => 1100 + column)
  const profile = profileAlong(map, [
    { x: 102, y: 90 },
    { x: 254, y: 90 },
  ])
  expect(profile.along[0]).toBe(0)
  expect(profile.along.at(-1)).toBe(152)
  expect(profile.temperatureK[0]).toBe(1100)
  expect(profile.temperatureK.at(-1)).toBe(1138)
})

test('a line on the slant, with a bend, passes the cells between its points, one step a cell', () => {
  const map = mapOf((column, row) => 1000 + 100 * row + column)
  // From the middle of cell 2, 3 to that of 10, 9, and back along the row to 6, 9.
  const at = (column: number, row: number) => ({ x: 102 + 4 * column, y: 52 + 4 * row })
  const { along, temperatureK } = profileAlong(map, [at(2, 3), at(10, 9), at(6, 9)])
  expect(along[1]).toBeCloseTo(4, 9)
  expect(along.at(-1)).toBeCloseTo(40 + 16, 9)
  expect(along).toHaveLength(11 + 4)
  expect(temperatureK[0]).toBe(1302)
  // Half way of the first leg: cell 6, 6.
  expect(temperatureK[5]).toBe(1606)
  expect(temperatureK.slice(10)).toEqual([1910, 1909, 1908, 1907, 1906])
})

test('cells and their middles are inverse; places outside have no cell', () => {
  const map = mapOf(() => 1150)
  for (const at of [0, 39, 400, 799]) {
    const { x, y } = cellCentre(map, at)
    expect(cellAt(map, x, y)).toBe(at)
  }
  expect(cellAt(map, 99, 60)).toBe(-1)
  expect(cellAt(map, 120, 131)).toBe(-1)
})

test('a soak looks at the middle 80 % of a line and counts what the scale leaves open', () => {
  const map = mapOf((column) => (column < 3 ? 1000 : 1150 + 0.5 * column))
  const profile = profileAlong(map, [
    { x: 102, y: 90 },
    { x: 258, y: 90 },
  ])
  const found = soak(map, profile)!
  // Columns 4 to 35 are left.
  expect(found.differenceK).toBeCloseTo(15.5, 0)
  expect(found.standardUncertaintyK).toBeCloseTo(Math.hypot(1, 1, 0.05 * found.differenceK), 5)
})

test('a path with a corner runs along both legs', () => {
  const map = mapOf((column, row) => 1000 + 10 * column + row)
  const { along, temperatureK } = profileAlong(map, [
    { x: 102, y: 52 },
    { x: 142, y: 52 },
    { x: 142, y: 92 },
  ])
  expect(along.at(-1)).toBe(80)
  expect(temperatureK[along.indexOf(40)]).toBe(1100)
  expect(temperatureK.at(-1)).toBe(1110)
})

test('two lines are compared place by place; what both share drops out', () => {
  // Each row is 3 K hotter than the one above, and there is a spot on the second line.
  const map = mapOf((column, row) => 1100 + 3 * row + (row === 12 && column === 30 ? 25 : 0))
  const line = (y: number) =>
    profileAlong(map, [
      { x: 102, y },
      { x: 258, y },
    ])
  const { mean, most, places } = compareProfiles(map, line(72), line(100))!
  expect(places).toBe(101)
  // Rows 5 and 12; the spot fills 2 or 3 of 101 places.
  expect(Math.abs(mean.differenceK - 21)).toBeLessThan(1)
  // 40 cells a line make 3 independent means of noise 1 K; the scale leans by 0.05.
  expect(mean.standardUncertaintyK).toBeCloseTo(
    Math.hypot(0.05 * mean.differenceK, Math.sqrt(26 / 40)),
    1,
  )
  expect(most.differenceK).toBe(46)
  expect(Math.abs(most.share - 30 / 39)).toBeLessThan(0.02)
  expect(compareProfiles(map, line(72), line(400))).toBeNull()
})

test('shares below, in and above a band, and what a shift of the whole map makes of them', () => {
  // 1100 to 1139 K by columns, shifted together by up to 40 K.
  const found = bandShares(
    mapOf((column) => 1100 + column),
    { fromK: 1110, toK: 1119 },
  )!
  expect(found.below).toBeCloseTo(0.25, 9)
  expect(found.inside).toBeCloseTo(0.25, 9)
  expect(found.above).toBeCloseTo(0.5, 9)
  expect(found.insideFrom).toBe(0)
  expect(found.insideTo).toBeCloseTo(0.25, 9)
  // A band through which all of an even map passes on its way.
  const even = mapOf(() => 1100)
  expect(bandShares(even, { fromK: 1111, toK: 1112 })).toMatchObject({ inside: 0, insideTo: 1 })
  expect(bandShares(even, { fromK: 1140, toK: 1150 })).toMatchObject({ insideFrom: 0, insideTo: 1 })
  expect(bandShares(even, { fromK: 1141, toK: 1150 })).toMatchObject({ insideFrom: 0, insideTo: 0 })
  expect(bandShares(even, { fromK: 1050, toK: 1150 })).toMatchObject({ insideFrom: 1, insideTo: 1 })
  expect(
    bandShares(
      mapOf(() => Number.NaN),
      { fromK: 1, toK: 2 },
    ),
  ).toBeNull()
})

test('a quadratic course is found under a spot, and the spot stands out of it', () => {
  const noise = normal(9)
  const course = (x: number, y: number) => 1100 + 2 * x - 0.03 * x * x + 0.5 * y
  const map = mapOf((x, y) => {
    const spot = 30 * Math.exp(-((x - 25) ** 2 + (y - 8) ** 2) / (2 * 2 ** 2))
    return course(x, y) + spot + noise()
  })
  const slow = trend(map.temperatureK, COLUMNS)
  expect(Math.abs(slow[10 * COLUMNS + 5]! - course(5, 10))).toBeLessThan(1)
  const found = standingOut(fieldOf(map), 3, 7.5)
  expect(found).toHaveLength(1)
  expect(found[0]!.peak % COLUMNS).toBeGreaterThan(22)
  expect(found[0]!.peak % COLUMNS).toBeLessThan(28)
  // Full width at half height of a normal curve: 2.355 standard deviations.
  expect(found[0]!.across).toBeGreaterThan(3.5)
  expect(found[0]!.across).toBeLessThan(6.5)
  expect(Math.abs(found[0]!.rise - 30)).toBeLessThan(6)
})

test('noise alone shows no spot in 8 maps', () => {
  const noise = normal(3)
  for (let draw = 0; draw < 8; draw++) {
    const map = mapOf(() => 1150 + noise())
    expect(standingOut(fieldOf(map), 3, 7.5)).toEqual([])
  }
})
