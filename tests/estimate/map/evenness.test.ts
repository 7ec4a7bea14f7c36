import { describe, expect, test } from 'vitest'
import { evenness } from '../../../src/estimate/map/evenness.ts'
import type { HeatScale } from '../../../src/estimate/map/heat-scale.ts'
import { significance } from '../../../src/estimate/map/significance.ts'
import { trend } from '../../../src/estimate/map/trend.ts'
import { evennessSentences } from '../../../src/ui/words/heat-map.ts'
import { madeMap } from '../../session/map/made-map.ts'

const COLUMNS = 40

test('a single hot cell is not the hottest place', () => {
  const hot = (at: number) => (at === 10 * COLUMNS + 20 ? 60 : 0)
  const { evenness: said } = madeMap((at) => 1100 + (at % COLUMNS) + hot(at))
  expect(said.hottest % COLUMNS).toBeGreaterThan(36)
  expect(said.coolest % COLUMNS).toBeLessThan(3)
})

test('where a tone curve leaves more open than a spot rises, it is said that none can be told', () => {
  const { map, evenness: linear } = madeMap()
  // 22694 K / 1120^2 of ln(red) a kelvin: 60 K of leaning over 1 of ln(red) are 1.09 K a kelvin.
  const byLevel = { x: [-2, -1, 0], overK: [0, 0, 0], leaningK: [-60, 0, 60] }
  const measured = {
    raw: map.temperatureK,
    noise: map.ownK,
    coding: map.ownK.map(() => 0),
    blockPixels: 0,
  }
  const open = evenness({ ...map, scale: { ...map.scale, byLevel } }, measured, false)
  // Three standard uncertainties: sqrt 2 of 1.25 K, and 0.05 of the rise.
  const least = (3 * Math.SQRT2 * 1.25) / Math.sqrt(1 - (3 * 0.05) ** 2)
  expect(Math.abs(linear.leastSpot!.riseK! / least - 1)).toBeLessThan(0.02)
  expect(linear.leastSpot!.prevents).toBeNull()
  expect(open.leastSpot).toMatchObject({ riseK: null, prevents: 'tone curve' })
  expect(evennessSentences(open, map.side, null).at(-1)).toMatch(/^No spot .* tone curve.* raw/)
})

test('a scale, noise or coarse coding that lets no spot be told is not laid on a tone curve', () => {
  const { map } = madeMap()
  const last = (scale: HeatScale, ownK: number, codingK: number) => {
    const own = map.ownK.map(() => ownK)
    const measured = {
      raw: map.temperatureK,
      noise: own,
      coding: own.map(() => codingK),
      blockPixels: codingK > 0 ? 8 : 0,
    }
    const said = evenness({ ...map, ownK: own, scale }, measured, true)
    return [said.leastSpot!.prevents, evennessSentences(said, map.side, null).at(-1)]
  }
  const { scale } = map
  // Three standard uncertainties of 0.4 a kelvin are more than any rise.
  const steep = { ...scale, byRatio: { ...scale.byRatio, leaningK: [-12, 0, 12] } }
  expect(last(steep, 1, 0)).toEqual(['scale', expect.stringContaining('known heat')])
  // 3 sqrt 2 times 80 K, and 2.41 steps of 130 K, are above 300 K.
  expect(last(scale, 80, 0)).toEqual(['noise', expect.stringContaining('Expose longer')])
  expect(last(scale, 1, 130)).toEqual(['noise', expect.stringContaining('JPEG')])
  expect(last(scale, 1, 0)[0]).toBeNull()
})

test('the ends of a map are those of its longer side, and the smallest spot is four cells', () => {
  const { map, evenness: said } = madeMap()
  // 40 columns of 1 K and rows of 0.4 K: the outer tenths lie 36 columns apart.
  expect(Math.abs(said.ends!.towards[0])).toBeGreaterThan(0.99)
  expect(Math.abs(said.ends!.differenceK)).toBeGreaterThan(35)
  expect(Math.abs(said.ends!.differenceK)).toBeLessThan(38)
  // Diameter of the circle of four cells.
  expect(said.leastSpot!.pixels).toBeCloseTo(2 * Math.sqrt(4 / Math.PI) * map.side, 6)
})

test('the ends are as sure as their cells’ noise, independent by sixties, and their leanings', () => {
  const { map } = madeMap()
  const ends = (change: Partial<typeof map>) => {
    const made = { ...map, ...change }
    const none = made.ownK.map(() => 0)
    const measured = { raw: made.temperatureK, noise: made.ownK, coding: none, blockPixels: 0 }
    return evenness(made, measured, true).ends!
  }
  const still = map.ownK.map((own) => (Number.isFinite(own) ? 0 : Number.NaN))
  // A tenth of 798 cells at either end.
  const noise = 1.25 / Math.sqrt(79 / 60)
  const unsure = (change: Partial<typeof map>) => ends(change).standardUncertaintyK
  expect(unsure({ leaningK: still })).toBeCloseTo(Math.hypot(noise, noise), 3)
  const { differenceK } = ends({})
  expect(unsure({ ownK: still })).toBeCloseTo(0.05 * Math.abs(differenceK), 3)
  expect(unsure({ ownK: still, leaningK: still, levelLeaningK: map.leaningK })).toBeCloseTo(
    0.05 * Math.abs(differenceK),
    3,
  )
  // Ends of few cells are no surer than one of them.
  const few = map.temperatureK.map((kelvin, at) => (at >= 40 && at < 80 ? kelvin : Number.NaN))
  expect(unsure({ temperatureK: few, leaningK: still })).toBeCloseTo(1.25 * Math.SQRT2, 3)
})

test('the longer axis of a slanted strip runs along it', () => {
  const { map } = madeMap((at) => 1100 + (at % COLUMNS))
  const slanted = map.temperatureK.map((kelvin, at) =>
    Math.abs((at % COLUMNS) - 2 * Math.floor(at / COLUMNS)) < 4 ? kelvin : Number.NaN,
  )
  const none = map.ownK.map(() => 0)
  const measured = { raw: slanted, noise: map.ownK, coding: none, blockPixels: 0 }
  const { towards, differenceK } = evenness({ ...map, temperatureK: slanted }, measured, true).ends!
  // Two columns a row.
  expect(towards[1] / towards[0]).toBeCloseTo(0.5, 1)
  expect(Math.hypot(...towards)).toBeCloseTo(1, 9)
  expect(Math.sign(differenceK)).toBe(Math.sign(towards[0]))
  expect(Math.abs(differenceK)).toBeGreaterThan(30)
})

test('a tenth of fewer than twenty cells is no end', () => {
  const { map } = madeMap()
  const ends = (cells: number) => {
    const temperatureK = map.temperatureK.map((kelvin, at) =>
      at > 40 && at <= 40 + cells ? kelvin : Number.NaN,
    )
    const none = map.ownK.map(() => 0)
    const measured = { raw: temperatureK, noise: map.ownK, coding: none, blockPixels: 0 }
    return evenness({ ...map, temperatureK }, measured, true).ends
  }
  expect(ends(19)).toBeNull()
  expect(ends(20)).not.toBeNull()
})

describe('what stands out of a map', () => {
  /** Nearly no noise, but a pattern without draws, by which the scatter of the map is known. */
  const ROWS = 20
  const pattern = (at: number) => Math.sin(97 * at * at)
  /** Places of 4 by 4 cells, each with its rise. */
  const PLACES = [5, 14, 23, 32].map((column) => 8 * COLUMNS + column)
  const about = (at: number, of: number) => {
    const [dx, dy] = [
      (at % COLUMNS) - (of % COLUMNS),
      Math.floor(at / COLUMNS) - Math.floor(of / COLUMNS),
    ]
    return dx >= 0 && dx < 4 && dy >= 0 && dy < 4
  }
  const rise = (at: number, rises: readonly number[]) =>
    rises.reduce((sum, k, i) => sum + (about(at, PLACES[i]!) ? k : 0), 0)
  function said(
    kelvin: readonly number[],
    ownK: number,
    lnRed: readonly number[] = [],
    scatterK = ownK,
  ) {
    const { map } = madeMap()
    const cells = (value: (at: number) => number) =>
      map.temperatureK.map((present, at) => (Number.isFinite(present) ? value(at) : Number.NaN))
    const temperatureK = cells((at) => 1100 + scatterK * pattern(at) + rise(at, kelvin))
    const own = cells(() => ownK)
    const none = cells(() => 0)
    const measured = { raw: temperatureK, noise: own, coding: none, blockPixels: 0 }
    const brightness = cells((at) => -22694 / temperatureK[at]! + rise(at, lnRed))
    const of = { ...map, temperatureK, ownK: own, leaningK: none, lnRed: brightness }
    expect(temperatureK).toHaveLength(ROWS * COLUMNS)
    const slow = trend(temperatureK, COLUMNS)
    const residual = temperatureK.map((value, at) => value - slow[at]!)
    const scores = () => significance(residual, own, COLUMNS, false)
    return { ...evenness(of, measured, true), scores }
  }

  test('rises by 3 K at least, and so much is what a picture without noise is said to tell', () => {
    const spots = (kelvin: number) => said([kelvin], 0.02).spots.length
    expect([2.85, -2.85, 3.15, -3.15].map(spots)).toEqual([0, 0, 1, 1])
    expect(said([], 0.001).leastSpot!.riseK).toBeCloseTo(3, 1)
  })

  test('stands seven and a half times as far out as such places scatter in this very map', () => {
    const at = (scatterK: number) => said([4], 0.02, [], scatterK)
    let [told, hidden] = [0.02, 4]
    for (let i = 0; i < 8; i++) {
      const middle = (told + hidden) / 2
      if (at(middle).spots.length > 0) told = middle
      else hidden = middle
    }
    expect([told, hidden].map((scatterK) => at(scatterK).spots.length)).toEqual([1, 0])
    for (const scatterK of [told, hidden])
      expect(Math.max(...at(scatterK).scores().filter(Number.isFinite)) / 7.5).toBeCloseTo(1, 1)
  })

  test('is told of the three that rise most', () => {
    const { spots } = said([10, 20, 30, 40], 0.02)
    expect(spots).toHaveLength(3)
    expect(Math.min(...spots.map((spot) => spot.rise))).toBeGreaterThan(15)
  })

  test('is another surface where as hot a place is brighter or darker by an emissivity of 0.7 for 0.8', () => {
    const surface = (ln: number) => said([], 0.02, [ln]).surface.length
    const ln = Math.log(0.8 / 0.7)
    expect([-1.06, -0.93, 0.93, 1.06].map((times) => surface(times * ln))).toEqual([1, 0, 0, 1])
  })
})
