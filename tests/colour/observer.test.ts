import { expect, test } from 'vitest'
import {
  OBSERVER_COUNT,
  OBSERVER_FIRST_NM,
  OBSERVER_LAST_NM,
  OBSERVER_STEP_NM,
  observerAt,
  X_WEIGHTS,
  Y_WEIGHTS,
  Z_WEIGHTS,
} from '../../src/colour/observer.ts'
import { expectClose, expectPrinted } from '../close-to.ts'
import { OBSERVER_1NM } from './direct-integration.ts'

test('the shipped observer is every fifth row of the published table, digit for digit', () => {
  for (let i = 0; i < OBSERVER_COUNT; i++) {
    const nm = OBSERVER_FIRST_NM + i * OBSERVER_STEP_NM
    const published = OBSERVER_1NM.find((row) => row.nm === nm)!
    expect(observerAt(nm)).toEqual(published.bars)
  }
  expect(OBSERVER_LAST_NM).toBe(830)
})

test('it has the values that CIE 15 prints', () => {
  // CIE 15:2004, table T.4 (from memory).
  expectPrinted(observerAt(555)[1], '1.0000')
  expectPrinted(observerAt(600)[0], '1.0622')
  expectPrinted(observerAt(450)[2], '1.7721')
  expectPrinted(observerAt(700)[0], '0.0114')
})

test('between its samples it stays near the published 1 nm values', () => {
  let worst = 0
  for (const { nm, bars } of OBSERVER_1NM) {
    const got = observerAt(nm)
    for (let k = 0; k < 3; k++) worst = Math.max(worst, Math.abs(got[k]! - bars[k]!))
  }
  // The docstring's promise; linear interpolation would miss it with 0.016.
  expect(worst).toBeLessThan(0.0024)
})

test('the weights integrate the whole table, the ends by half', () => {
  const total = (weights: Float64Array) => weights.reduce((sum, weight) => sum + weight, 0)
  for (const [k, weights] of [X_WEIGHTS, Y_WEIGHTS, Z_WEIGHTS].entries()) {
    let byHand = 0
    for (const { nm, bars } of OBSERVER_1NM) {
      if (nm % 5 === 0) byHand += bars[k]! * (nm === 360 || nm === 830 ? 2.5e-9 : 5e-9)
    }
    expectClose(total(weights), byHand, 1e-12)
  }
})

test('outside its range the eye sees nothing, and no number is not a number', () => {
  for (const nm of [-1, 0, 359.9, 830.1, Number.POSITIVE_INFINITY, Number.NaN]) {
    expect(observerAt(nm)).toEqual([0, 0, 0])
  }
  expect(observerAt(830)[0]).toBeGreaterThan(0)
})
