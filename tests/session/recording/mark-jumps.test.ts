import { describe, expect, test } from 'vitest'
import { slopeBetween } from '../../../src/estimate/recording/slope.ts'
import { emptyColumns, FLAGS } from '../../../src/log/recordings/columns.ts'
import { curveOf } from '../../../src/session/recording/curve-of.ts'
import { markJumps } from '../../../src/session/recording/mark-jumps.ts'

/** Ten readings a second of a bar that cools by 5 K/s; the camera opens by a stop at 10 s. */
function course(stepK: number) {
  const columns = emptyColumns(200)
  for (let i = 0; i < 200; i++) {
    const kelvin = 1250 - 0.5 * i
    columns.ms[i] = 100 * i
    columns.temperatureK[i] = kelvin + (i >= 100 ? stepK : 0)
    columns.noiseK[i] = 0.5
    columns.commonK[i] = 10
    // Wien at 540 and 610 nm.
    columns.lnRatio[i] = (0.014388e9 * (1 / 610 - 1 / 540)) / kelvin
    columns.lnRed[i] = -0.014388e9 / 610 / kelvin + (i >= 100 ? Math.LN2 : 0)
  }
  return markJumps(columns)
}

describe('an exposure that the camera changed by itself', () => {
  test('is marked where it happened, and the curve is less certain from there on', () => {
    const { flags, commonK } = course(15)
    expect([...flags].filter((f) => f & FLAGS['exposure changed'])).toHaveLength(1)
    expect(flags[100]! & FLAGS['exposure changed']).toBeTruthy()
    expect(commonK[99]).toBe(10)
    expect(Math.abs(commonK[150]! - Math.hypot(10, 15))).toBeLessThan(0.5)
  })

  test('widens a slope across it so that the true one stays inside, and none beside it', () => {
    const curve = curveOf(course(15))
    const across = slopeBetween(curve, 5, 15)!
    expect(Math.abs(across.slope + 5)).toBeGreaterThan(1)
    expect(Math.abs(across.slope + 5)).toBeLessThan(2 * across.standardUncertainty)
    const beside = slopeBetween(curve, 0, 9)!
    expect(beside.standardUncertainty).toBeLessThan(0.3)
    expect(Math.abs(beside.slope + 5)).toBeLessThan(2 * beside.standardUncertainty)
  })
})
