import { expect, test } from 'vitest'
import type { OverSight } from '../../../src/session/live/live-scale.ts'
import { liveTable } from '../../../src/session/live/live-table.ts'

const COLOURS = {
  lnRatio: -2,
  lnRed: -1,
  ratios: [-2.4, -2.1, -2, -1.9, -1.6],
  levels: [-3, 0] as const,
}
const over = (byLevel: boolean): OverSight => ({
  overK: (above) => 400 * above,
  levelOverK: (above) => -30 * above,
  leaningK: () => 0,
  levelLeaningK: () => 0,
  byLevel,
})

test('a cell is as much hotter than the sight as its colour says', () => {
  const table = liveTable(over(false), COLOURS, 1200)
  expect(table.kelvin(-2, 0.3)).toBeCloseTo(1200, 6)
  expect(table.kelvin(-1.7, 0.001)).toBeCloseTo(1320, 6)
  expect(table.kelvin(-2.4, 0.3)).toBeCloseTo(1040, 6)
})

test('where the tone curve is not known its level counts beside', () => {
  const table = liveTable(over(true), COLOURS, 1200)
  expect(table.kelvin(-2, Math.exp(-1))).toBeCloseTo(1200, 6)
  expect(table.kelvin(-2, Math.exp(-3))).toBeCloseTo(1260, 6)
  expect(table.kelvin(-1.7, Math.exp(-3))).toBeCloseTo(1380, 6)
})

test('a later frame may go a quarter of ln beyond the picture; farther the end stands', () => {
  const table = liveTable(over(false), COLOURS, 1200)
  expect(table.kelvin(-1.36, 0.3)).toBeCloseTo(1200 + 400 * 0.64, 0)
  expect(table.kelvin(-1, 0.3)).toBeCloseTo(1200 + 400 * 0.65, 0)
  expect(table.kelvin(-2.64, 0.3)).toBeCloseTo(1200 - 400 * 0.64, 0)
  expect(table.kelvin(-5, 0.3)).toBeCloseTo(1200 - 400 * 0.65, 0)
})
