import { expect, test } from 'vitest'
import type { Layout } from '../../../src/light/spectrum-import/layout.ts'
import {
  commaTwice,
  countsUp,
  hasIndexColumn,
} from '../../../src/light/spectrum-import/plausibility.ts'

const LAYOUT: Layout = { delimiter: 'comma', decimalMark: '.', columns: 4 }
const rowsOf = (lines: readonly string[]) =>
  lines.map((line, i) => ({ line: i + 1, numbers: line.split(',').map(Number) }))
const judged = (lines: readonly string[], layout = LAYOUT) =>
  commaTwice(rowsOf(lines), layout, lines)

test('wavelengths that repeat themselves where every number is whole were cut at a decimal comma', () => {
  // 500,1 500,6 501,1 ... with a signal of 0,25.
  const lines = ['500,1,0,25', '500,6,0,26', '501,1,0,28', '501,6,0,29']
  expect(judged(lines)?.line).toBe(2)
  expect(judged([...lines, '502,1,0.5,30'])).toBeNull()
  expect(judged(lines, { ...LAYOUT, delimiter: 'semicolon' })).toBeNull()
  expect(judged(['500,1,0', '500,6,0'], { ...LAYOUT, columns: 3 })).toBeNull()
  expect(judged(['500,1', '500,6'], { ...LAYOUT, columns: 2 })).toBeNull()
})

test('a spectrum of whole nanometres with three signals is none of these', () => {
  expect(judged(['500,1,0,25', '501,6,0,26', '502,1,0,28', '503,6,0,29'])).toBeNull()
  // One that came twice is a slip of one row, not the decimal mark of all.
  expect(judged(['500,1,0,25', '500,6,0,26', '501,1,0,28', '502,6,0,29'])).toBeNull()
})

test('a first column that counts from 0 or 1 is no wavelength where the second is in order', () => {
  expect(countsUp(rowsOf(['0,400,5', '1,410,6', '2,420,7']))).toBe(true)
  expect(countsUp(rowsOf(['1,400,5', '2,410,6']))).toBe(true)
  expect(countsUp(rowsOf(['2,400,5', '3,410,6']))).toBe(false)
  expect(countsUp(rowsOf(['0,400,5', '1,410,6', '3,420,7']))).toBe(false)
  expect(hasIndexColumn(rowsOf(['0,400,5', '1,410,6', '2,420,7']))).toBe(true)
  expect(hasIndexColumn(rowsOf(['0,420,5', '1,410,6', '2,400,7']))).toBe(true)
  expect(hasIndexColumn(rowsOf(['0,400,5', '1,410,6', '2,410,7']))).toBe(false)
  expect(hasIndexColumn(rowsOf(['0,400,5', '1,420,6', '2,410,7']))).toBe(false)
  expect(hasIndexColumn(rowsOf(['0,400', '1,410']))).toBe(false)
})
