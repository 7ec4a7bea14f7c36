import { expect, test } from 'vitest'
import { findLines, markedStretches } from '../../../src/estimate/spectrum/residuals.ts'
import { seeded } from '../../accuracy/random.ts'

/** One sample a nanometre from 500 to 899 nm, with noise of 1. */
const nm = Float64Array.from({ length: 400 }, (_, i) => 500 + i)
function residuals(more: (at: number) => number = () => 0, sd = 1): Float64Array {
  const random = seeded(4)
  return nm.map((at) => sd * random.normal() + more(at))
}
const linesOf = (values: Float64Array) => markedStretches(nm, findLines(nm, values))
const line = (from: number, to: number, height: number) => (at: number) =>
  at >= from && at <= to ? height : 0

test('noise has no lines, neither as stated nor three times as large', () => {
  expect(linesOf(residuals())).toEqual([])
  expect(linesOf(residuals(() => 0, 3))).toEqual([])
})

test('the sodium line of a flame is found, with three samples beside it', () => {
  // 589.0 and 589.6 nm (handbook tables).
  expect(linesOf(residuals(line(589, 590, 25)))).toEqual([{ fromNm: 586, toNm: 593 }])
  // A dead pixel is as narrow, and dark.
  expect(linesOf(residuals(line(700, 700, -25)))).toEqual([{ fromNm: 697, toNm: 703 }])
})

test('what rises by less than six standard deviations is noise, by more a line', () => {
  const quiet = (height: number) => linesOf(residuals(line(650, 650, height), 0.01))
  expect(quiet(5.9)).toEqual([])
  expect(quiet(6.1)).toHaveLength(1)
})

test('up to 10 nm wide it is a line, beyond that it belongs to the shape', () => {
  expect(linesOf(residuals(line(650, 660, 30)))).toHaveLength(1)
  expect(linesOf(residuals(line(650, 661, 30)))).toEqual([])
})

test('a broad course of the residuals is no line, nor is what runs away at an end', () => {
  expect(linesOf(residuals((at) => 40 * ((at - 700) / 200) ** 2))).toEqual([])
  expect(linesOf(residuals((at) => 10 * Math.sin(at / 60)))).toEqual([])
  expect(linesOf(residuals(line(500, 504, 30)))).toEqual([])
  expect(linesOf(residuals(line(896, 899, 30)))).toEqual([])
})

test('stretches that touch are one', () => {
  const marks = new Uint8Array(nm.length)
  marks.fill(1, 10, 13)
  marks.fill(1, 13, 15)
  marks[399] = 1
  expect(markedStretches(nm, marks)).toEqual([
    { fromNm: 510, toNm: 514 },
    { fromNm: 899, toNm: 899 },
  ])
  expect(markedStretches(nm, new Uint8Array(nm.length))).toEqual([])
})
