import { expect, test } from 'vitest'
import { courseByLevel, rateShare } from '../../../src/estimate/recording/course-by-level.ts'
import { radiativeCourse } from '../../../src/estimate/recording/laws.ts'

/** Second radiation constant (CODATA 2018) over 634 nm, where cameras' red sees a glow, K. */
const WIEN_RED_K = 0.014387768775 / 634e-9

/** A bar that cools by radiation as a camera's red sees it; the colour gives half of its true course. */
function course(level = 0) {
  const seconds = Float64Array.from({ length: 100 }, (_, i) => i / 5)
  const truth = radiativeCourse(seconds, 1300, 1.5e-12, 293)
  const middle = truth.reduce((sum, kelvin) => sum + 1 / kelvin, 0) / truth.length
  return {
    truth,
    columns: {
      seconds,
      temperatureK: Float32Array.from(truth, (kelvin) => 1 / (middle + (1 / kelvin - middle) / 2)),
      noiseK: new Float32Array(100).fill(1),
      commonK: new Float32Array(100).fill(10),
      lnRed: Float32Array.from(truth, (kelvin) => level - WIEN_RED_K / kelvin),
    },
  }
}

test('the brightness gives the course, the colour the height', () => {
  const { truth, columns } = course()
  courseByLevel(columns, true)
  for (const [i, kelvin] of truth.entries())
    expect(Math.abs(columns.temperatureK[i]! - kelvin)).toBeLessThan(0.05)
})

test('how bright it is as a whole does not matter', () => {
  const [one, other] = [course().columns, course(5).columns]
  courseByLevel(one, true)
  courseByLevel(other, true)
  for (const [i, kelvin] of one.temperatureK.entries())
    expect(Math.abs(other.temperatureK[i]! - kelvin)).toBeLessThan(0.05)
})

test('a gap stays a gap, and what comes after it has its own height', () => {
  const { truth, columns } = course()
  columns.temperatureK.fill(Number.NaN, 40, 60)
  for (let i = 60; i < 100; i++) columns.lnRed[i]! += 1
  courseByLevel(columns, true)
  expect(columns.temperatureK[50]).toBeNaN()
  const slope = (values: ArrayLike<number>, i: number) => values[i + 10]! - values[i]!
  for (const i of [10, 70])
    expect(Math.abs(slope(columns.temperatureK, i) / slope(truth, i) - 1)).toBeLessThan(0.1)
})

test('a course by the ratio that parts from the brightness says how unsure it is', () => {
  const { columns } = course()
  // Half of the true course: as far again, with a contrast of 1.1 taken for 1 (2 / 1.1 - 1 = 0.8).
  expect(Math.abs(rateShare(columns, 'ratio', false) - 0.82)).toBeLessThan(0.03)
  expect(rateShare(columns, 'ratio', true)).toBe(0.15)
  expect(rateShare(columns, 'level', true)).toBeLessThan(0.03)
})
