/**
 * Writes observer.data.ts from the published 1 nm table of the CIE 1931 2° observer.
 *
 *   node src/colour/observer.derive.mjs TABLE.csv > src/colour/observer.data.ts
 *
 * The table has a heading and rows "wavelength_nm,x_bar,y_bar,z_bar", 360 to 830 nm by 1 nm.
 * Every fifth row is kept as printed. Summed with half weight at both ends, that moves the
 * correlated colour temperature of a black body by less than 0.006 K between 800 and 4000 K against
 * all 471 rows (measured in tests/colour/planckian-locus.test.ts), at a fifth of the bytes.
 */
import { readFileSync } from 'node:fs'

const STEP_NM = 5

const path = process.argv[2]
if (path === undefined) {
  console.error('Give the path of the 1 nm observer table (CSV) as the one argument.')
  process.exit(1)
}
const rows = readFileSync(path, 'utf8')
  .trim()
  .split(/\r?\n/)
  .slice(1)
  .map((line) => line.split(',').map(Number))
const first = rows[0]?.[0]
const last = rows.at(-1)?.[0]
if (first !== 360 || last !== 830 || rows.length !== 471) {
  console.error(`Expected 471 rows, 360 to 830 nm; got ${rows.length}, ${first} to ${last}.`)
  process.exit(1)
}

/** One column as rows of ten numbers. */
function column(index) {
  const values = rows.filter((_, row) => row % STEP_NM === 0).map((row) => row[index])
  const lines = []
  for (let at = 0; at < values.length; at += 10) {
    lines.push(`  ${values.slice(at, at + 10).join(', ')},`)
  }
  return `[\n${lines.join('\n')}\n]`
}

console.log(`/**
 * CIE 1931 2° standard colorimetric observer, every fifth value of the 1 nm table.
 * Source: ISO/CIE 11664-1:2019, table of the 1931 observer, as published by the CIE.
 * Written by observer.derive.mjs.
 */
export const OBSERVER_FIRST_NM = ${first}
export const OBSERVER_STEP_NM = ${STEP_NM}

export const X_BAR: readonly number[] = ${column(1)}

export const Y_BAR: readonly number[] = ${column(2)}

export const Z_BAR: readonly number[] = ${column(3)}`)
