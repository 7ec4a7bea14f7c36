import { expect, test } from 'vitest'
import type { HeatMap } from '../../../src/estimate/map/heat-map.ts'
import { bandPath, isotherms, roundLevels } from '../../../src/ui/heat-map/isotherms.ts'
import { rangeOf } from '../../../src/ui/heat-map/map-range.ts'

const COLUMNS = 30
const ROWS = 20
const map = (kelvin: (x: number, y: number) => number) =>
  ({
    columns: COLUMNS,
    rows: ROWS,
    side: 2,
    left: 10,
    top: 6,
    // Values stand in the middle of their cells.
    temperatureK: Float32Array.from({ length: COLUMNS * ROWS }, (_, at) =>
      kelvin(11 + 2 * (at % COLUMNS), 7 + 2 * Math.floor(at / COLUMNS)),
    ),
  }) as unknown as HeatMap
const pointsOf = (path: string) =>
  path
    .split(/[ML]/)
    .filter(Boolean)
    .map((pair) => pair.split(' ').map(Number) as [number, number])

test('an isotherm of an even slope is the straight line where the slope has that value', () => {
  const [line] = isotherms(
    map((x) => 1000 + x),
    [1040],
  )
  const points = pointsOf(line!.path)
  expect(points.length).toBeGreaterThan(10)
  for (const [x] of points) expect(x).toBeCloseTo(40, 1)
})

test('a level that parts every other cell is no line: a wall of them would hold up the page', () => {
  const board = map((x, y) => (((x + y) / 2) % 2 < 1 ? 1000 : 1100))
  const [line] = isotherms(board, [1050])
  expect(line).toEqual({ temperatureK: 1050, path: '', label: null })
  expect(bandPath(board, 950, 1050)).not.toBe('')
  const stripes = map((_, y) => ((y / 2) % 2 < 1 ? 1000 : 1100))
  expect(isotherms(stripes, [1050])[0]?.path).toBe('')
})

test('an isotherm of a cone is a circle', () => {
  const [line] = isotherms(
    map((x, y) => 1200 - 2 * Math.hypot(x - 40, y - 26)),
    [1176],
  )
  for (const [x, y] of pointsOf(line!.path))
    expect(Math.abs(Math.hypot(x - 40, y - 26) - 12)).toBeLessThan(0.2)
})

test('no line follows the border of what was read', () => {
  const [line] = isotherms(
    map((x) => (x < 30 ? Number.NaN : 1000 + x)),
    [1020],
  )
  expect(line!.path).toBe('')
})

test('levels are round in the unit of the person, and at most eight', () => {
  const celsius = (k: number) => k - 273.15
  const kelvin = (c: number) => c + 273.15
  const levels = roundLevels(1100, 1200, celsius, kelvin).map(celsius)
  expect(levels.map(Math.round)).toEqual([840, 860, 880, 900, 920])
  expect(roundLevels(1100, 1139, celsius, kelvin).length).toBeLessThanOrEqual(8)
  // Noise would draw lines that stand closer.
  const apart = roundLevels(1100, 1200, celsius, kelvin, { leastStepK: 30 }).map(celsius)
  expect(apart.map(Math.round)).toEqual([850, 900])
})

test('labels of lines that lie in each other hide none of the others', () => {
  const lines = isotherms(
    map((x, y) => 1200 - 2 * Math.hypot(x - 40, y - 26)),
    [1170, 1174, 1178, 1182],
  )
  const labels = lines.flatMap(({ label }) => label ?? [])
  expect(labels.length).toBeGreaterThan(2)
  for (const [i, a] of labels.entries())
    for (const b of labels.slice(i + 1))
      expect(Math.max(Math.abs(a.x - b.x), 2 * Math.abs(a.y - b.y))).toBeGreaterThan(
        0.1 * 2 * COLUMNS,
      )
  // A mark of the map stays in sight too.
  const [free] = labels
  const moved = isotherms(
    map((x, y) => 1200 - 2 * Math.hypot(x - 40, y - 26)),
    [1170],
    { marked: [free!] },
  )[0]!.label!
  expect(Math.hypot(moved.x - free!.x, moved.y - free!.y)).toBeGreaterThan(0.05 * 2 * COLUMNS)
})

test('of rings of one level those that noise makes are not drawn', () => {
  // A spot of 40 K, and two cells that noise lifts by 3 K above a level of the even rest.
  const lifted = (x: number, y: number) => (y === 13 && (x === 19 || x === 61) ? 4 : 0)
  const cells = map(
    (x, y) => 1199 + 40 * Math.exp(-((x - 40) ** 2 + (y - 26) ** 2) / 50) + lifted(x, y),
  )
  const pieces = (leastK: number) => isotherms(cells, [1200], { leastK })[0]!.path.match(/M/g)
  expect(pieces(0)).toHaveLength(3)
  expect(pieces(8)).toHaveLength(1)
})

/** Area between rings that are filled where an odd number of them lie: shoelace formula, holes negative. */
function areaOf(path: string): number {
  const rings = path.split('Z').filter(Boolean)
  return rings.reduce((sum, ring) => {
    const points = pointsOf(ring)
    const twice = points.reduce((area, [x, y], i) => {
      const [u, v] = points[(i + 1) % points.length]!
      return area + x * v - u * y
    }, 0)
    return sum + twice / 2
  }, 0)
}

test('a band of a cone is the ring between two circles', () => {
  const cone = map((x, y) => 1200 - 2 * Math.hypot(x - 40, y - 26))
  const [outer, inner] = [bandPath(cone, 1176, 1300), bandPath(cone, 1188, 1300)].map((path) =>
    Math.abs(areaOf(path)),
  )
  expect(Math.abs(outer! / (Math.PI * 12 ** 2) - 1)).toBeLessThan(0.02)
  expect(Math.abs(inner! / (Math.PI * 6 ** 2) - 1)).toBeLessThan(0.05)
  // Both rings stand in one path, so that the inner one is cut out.
  expect(bandPath(cone, 1176, 1188).match(/M/g)).toHaveLength(2)
})

test('where noise alone would draw them there are no lines', () => {
  const ownK = new Float32Array(COLUMNS * ROWS).fill(4)
  // Twenty evenly spread values reach 3 standard uncertainties to either side.
  const noise = map((x, y) => 1100 + (((7 * x + 3 * y) % 20) - 9.5) * 1.2)
  expect(rangeOf({ ...noise, ownK }).leastStepK).toBeNull()
  expect(rangeOf({ ...map((x) => 1000 + x), ownK }).leastStepK).toBe(16)
})
