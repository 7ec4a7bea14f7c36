import { describe, expect, test } from 'vitest'
import { temperatureDifference } from '../../../src/estimate/difference.ts'
import {
  cellDifference,
  type HeatMap,
  heatMap,
  heatMapOn,
  MAP_STATES,
  measuredTemperatures,
} from '../../../src/estimate/map/heat-map.ts'
import {
  type HeatScale,
  heatScale,
  type MapColour,
  scaleCurves,
} from '../../../src/estimate/map/heat-scale.ts'
import { linearityAt } from '../../../src/estimate/map/level-of-colour.ts'
import { correctionMoments } from '../../../src/estimate/tone-curve-prior.ts'
import type { GlowInput } from '../../../src/estimate/types.ts'
import type { HeatCells } from '../../../src/light/map/heat-cells.ts'
import { expectClose } from '../../close-to.ts'
import { CARD, colour, reading, salt, seen, temperature } from '../inputs.ts'

const PIECE = { id: 'steel', lnGreenOverRed: 0, standardUncertainty: 0.01, piece: 'bar' }
/** Without noise, the card in the very picture. */
const photo = (kelvin: number, change: Partial<GlowInput> = {}) => {
  const { mean } = seen(kelvin)
  return reading(colour(mean[1] / mean[0], mean[2] / mean[0], 1e-6), {
    surface: PIECE,
    balance: { ...CARD, samePicture: true },
    ...change,
  })
}
const lnRatioAt = (kelvin: number) => Math.log(seen(kelvin).mean[1] / seen(kelvin).mean[0])
const at = (kelvin: number): MapColour => ({ lnRatio: lnRatioAt(kelvin), lnRed: Math.log(0.5) })
const LINEAR = () => ({ kind: 'linear' }) as const

function scaleOf(input: GlowInput, kelvins: readonly number[], of = LINEAR as never): HeatScale {
  const found = heatScale(input, temperature(input), at(1173), kelvins.map(lnRatioAt), [-2, 0], of)
  if (found === null) throw new Error('no scale')
  return found
}

describe.each([
  ['with a known heat', [salt()]],
  ['without one', []],
])('the scale of a picture, %s', (_, references) => {
  const input = photo(1173, { references })
  const scale = scaleOf(input, [1123, 1223])

  test('has the reading’s own temperature and ± where the reading was taken', () => {
    const { temperatureK, standardUncertaintyK, expandedUncertaintyK } = temperature(input)
    expect(scale).toMatchObject({
      temperatureK,
      commonK: standardUncertaintyK,
      common95K: expandedUncertaintyK,
      byLevel: null,
    })
    expect(scale.byRatio.x).toEqual([lnRatioAt(1123), lnRatioAt(1173), lnRatioAt(1223)])
    expect(Math.abs(scale.byRatio.overK[1]!)).toBeLessThan(0.01)
    expect(Math.abs(scale.byRatio.leaningK[1]!)).toBeLessThan(0.01)
  })

  test('is as much hotter elsewhere, and as sure of it, as two readings of one camera are', () => {
    for (const [row, kelvin] of [
      [0, 1123],
      [2, 1223],
    ] as const) {
      const apart = temperatureDifference(input, photo(kelvin, { references }))!
      const { overK, leaningK } = scale.byRatio
      // The other way runs straight about the mean camera; leaks bend it by a few per cent.
      expectClose(overK[row]!, apart.differenceK, 0.06)
      expect(Math.sign(leaningK[row]!)).toBe(Math.sign(kelvin - 1173))
      // Two photos drift apart by 0.003 of ln(G/R) each (1.0 K), which one does not.
      const own = Math.sqrt(apart.standardUncertaintyK ** 2 - 2 * 1.0 ** 2)
      expect(Math.abs(leaningK[row]!) / own).toBeGreaterThan(0.65)
      expect(Math.abs(leaningK[row]!) / own).toBeLessThan(1.7)
    }
  })
})

describe('the rows of a scale', () => {
  const input = photo(1173, { references: [salt()] })

  test('are 0.02 of ln(G/R) apart at least, about the reading’s own', () => {
    const rows = (...offsets: number[]) =>
      heatScale(
        input,
        temperature(input),
        at(1173),
        offsets.map((one) => lnRatioAt(1173) + one),
        [0, 0],
        LINEAR,
      )!.byRatio.x.map((x) => Number((x - lnRatioAt(1173)).toFixed(4)))
    expect(rows(-0.1, -0.085, -0.05, 0.01, 0.05)).toEqual([-0.1, -0.05, 0, 0.05])
    expect(rows(-0.019, 0.019)).toEqual([-0.04, 0, 0.04])
    expect(rows(-0.021, 0.021)).toEqual([-0.021, 0, 0.021])
  })

  test('of an unknown tone curve go over the level too: brighter is bent otherwise', () => {
    const single: GlowInput['linearity'] = {
      kind: 'single',
      curveId: 'c',
      storedLevels: [0.735, 0.27, 0.1],
      space: 'display-p3',
    }
    const bent = photo(1173, { linearity: single, faithfulColours: false })
    const scale = heatScale(
      bent,
      temperature(bent),
      at(1173),
      [lnRatioAt(1123), lnRatioAt(1223)],
      [-2, -0.3],
      linearityAt(bent, null),
    )!
    const byLevel = scale.byLevel!
    expect(byLevel.x).toEqual([-2, Math.log(0.5), -0.3])
    expect(Math.abs(byLevel.overK[1]!)).toBeLessThan(0.5)
    // As much hotter as the mean curve lifts ln(G/R) more there: 0.0033 a kelvin.
    const lift = (lnRed: number) => {
      const light = linearityAt(bent, null)({ lnRatio: lnRatioAt(1173), lnRed })
      if (light.kind !== 'single') throw new Error(light.kind)
      return correctionMoments(light.storedLevels, 'display-p3', 'green').mean
    }
    for (const row of [0, 2] as const) {
      const lifted = lift(byLevel.x[row]!) - lift(Math.log(0.5))
      expect(Math.sign(byLevel.overK[row]!)).toBe(Math.sign(lifted))
      expect(Math.sign(byLevel.leaningK[row]!)).toBe(row === 0 ? -1 : 1)
    }
    expect(Math.max(...scale.byRatio.leaningK.map(Math.abs))).toBeGreaterThan(
      Math.max(...scaleOf(input, [1123, 1223]).byRatio.leaningK.map(Math.abs)),
    )
  })
})

const SCALE: HeatScale = {
  temperatureK: 1150,
  commonK: 20,
  common95K: 40,
  at: { lnRatio: -2, lnRed: -1 },
  byRatio: { x: [-2.1, -2, -1.9], overK: [-30, 0, 30], leaningK: [-1.5, 0, 1.5] },
  byLevel: { x: [-2, -1, 0], overK: [-4, 0, 4], leaningK: [-2, 0, 2] },
}

test('a table of a scale is gone through as a smooth curve, by colour and by level', () => {
  const curves = scaleCurves(SCALE)
  expect(curves.temperatureK(-1.95, -1)).toBeCloseTo(1165, 9)
  expect(curves.temperatureK(-1.95, -0.5)).toBeCloseTo(1167, 9)
  expect(curves.slopeK(-2)).toBeCloseTo(300, 9)
  expect(curves.leaningK(-2.1)).toBeCloseTo(-1.5, 9)
  expect(curves.levelLeaningK(0)).toBeCloseTo(2, 9)
  const linear = scaleCurves({ ...SCALE, byLevel: null })
  expect(linear.temperatureK(-1.95, -0.5)).toBeCloseTo(1165, 9)
  expect(linear.levelLeaningK(0)).toBe(0)
})

/** Cells in one row; ln(G/R) of each. */
const cellsOf = (lnRatio: readonly number[], change: Partial<HeatCells> = {}): HeatCells => {
  const each = (value: number) => new Float32Array(lnRatio.length).fill(value)
  return {
    columns: lnRatio.length,
    rows: 1,
    side: 4,
    left: 8,
    top: 12,
    state: Uint8Array.from(lnRatio, (one) => (Number.isNaN(one) ? 1 : 0)),
    lnRatio: Float32Array.from(lnRatio),
    lnNoise: each(0.01),
    lnCoding: each(0),
    lnStep: each(0),
    blockPixels: 0,
    lnRed: each(-1),
    noiseReach: 1,
    noiseGrowth: 1,
    blurPixels: 1,
    marginPixels: 8,
    closer: 1,
    ...change,
  }
}
const on = (cells: HeatCells) => heatMapOn(SCALE, cells, cells)
const three = (value: number) => new Float32Array(3).fill(value)

describe('cells on a scale', () => {
  test('have their temperature and leaning, and none where nothing was read', () => {
    const map = on(cellsOf([-2, -1.95, Number.NaN]))
    expect([...map.temperatureK]).toEqual([1150, expect.closeTo(1165, 3), Number.NaN])
    expect([...map.state].map((state) => MAP_STATES[state])).toEqual(['read', 'read', 'not glow'])
    expect(map.leaningK[1]).toBeCloseTo(0.75, 4)
    expect(map.ownK[2]).toBeNaN()
    expect(map.leaningK[2]).toBeNaN()
    expect(map.levelLeaningK[2]).toBeNaN()
    expect(map).toMatchObject({ columns: 3, rows: 1, side: 4, left: 8, top: 12, marginPixels: 8 })
    const bright = on(cellsOf([-2], { lnRed: Float32Array.of(-0.5) }))
    expect(bright.temperatureK[0]).toBeCloseTo(1152, 3)
    expect(bright.levelLeaningK[0]).toBeCloseTo(1, 4)
  })

  test('are as unsure as noise, steps of codes and 0.18 of the coding’s width together', () => {
    const change = { lnStep: three(0.02), lnCoding: three(0.1) }
    // 300 K for 1 in ln(G/R).
    expect(on(cellsOf([-2, -2, -2])).ownK[1]).toBeCloseTo(3, 4)
    expect(on(cellsOf([-2, -2, -2], { ...change, blockPixels: 8 })).ownK[1]).toBeCloseTo(
      300 * Math.hypot(0.01, 0.02, 0.018),
      3,
    )
  })

  test('in blocks as wide as noise is measured over, 16 pixels, have the larger of noise and steps', () => {
    const own = (blockPixels: number, step: number) =>
      on(cellsOf([-2, -2, -2], { blockPixels, lnStep: three(step), lnCoding: three(0.1) })).ownK[1]
    expect(own(16, 0.02)).toBeCloseTo(6, 4)
    expect(own(16, 0.002)).toBeCloseTo(3, 4)
    expect(own(15, 0.002)).toBeGreaterThan(5)
  })

  test('as they were measured have the slope of the scale on their noise and coding', () => {
    const cells = cellsOf([-2, -1.95, Number.NaN], { lnCoding: three(0.05), blockPixels: 8 })
    const { raw, noise, coding, blockPixels } = measuredTemperatures(on(cells), cells)
    expect(raw[1]).toBeCloseTo(1165, 3)
    expect(noise[1]).toBeCloseTo(3, 4)
    expect(coding[1]).toBeCloseTo(15, 3)
    expect(blockPixels).toBe(8)
    for (const one of [raw, noise, coding]) expect(one[2]).toBeNaN()
  })

  test('differ by their temperatures, as surely as noise and leaning leave them (JCGM 100, eq. 10)', () => {
    const map = on(cellsOf([-2, -1.95], { lnRed: Float32Array.of(-1, -0.5) }))
    const { differenceK, standardUncertaintyK } = cellDifference(map, 0, 1)
    expect(differenceK).toBeCloseTo(17, 3)
    expect(standardUncertaintyK).toBeCloseTo(Math.hypot(3, 3, 0.75, 1), 3)
  })
})

describe('a map of a picture', () => {
  const input = photo(1173, { references: [salt()] })
  const many = (change: Partial<HeatCells> = {}, count = 60) =>
    cellsOf(
      Array.from({ length: count }, (_, i) => lnRatioAt(1150) + (0.15 * i) / count),
      { lnRed: new Float32Array(count).fill(Math.log(0.5)), ...change },
    )
  const mapOf = (cells: HeatCells, inRegion: (at: number) => boolean = () => true) =>
    heatMap(cells, input, temperature(input), LINEAR, inRegion)

  test('takes twelve cells that were read', () => {
    expect(mapOf(many({}, 11))).toBeNull()
    expect(mapOf(many({}, 12))).not.toBeNull()
  })

  test('is laid where the reading was taken: there it has the reading’s temperature', () => {
    const { temperatureK } = temperature(input)
    const near = (map: HeatMap | null, cell: number) =>
      expect(Math.abs(map!.temperatureK[cell]! - temperatureK)).toBeLessThan(1.5)
    near(
      mapOf(many(), (cell) => cell > 6 && cell < 14),
      10,
    )
    near(
      mapOf(many(), (cell) => cell > 45 && cell < 55),
      50,
    )
    // Nowhere in it: the middle of all.
    near(
      mapOf(many(), () => false),
      30,
    )
    const map = mapOf(many(), () => false)!
    const perKelvin = (lnRatioAt(1220) - lnRatioAt(1150)) / 70
    expectClose(map.temperatureK[55]! - map.temperatureK[5]!, (0.15 * 50) / 60 / perKelvin, 0.1)
    expect(map.scale.at.lnRed).toBeCloseTo(Math.log(0.5), 5)
  })
})
