import { expect, test } from 'vitest'
import { smoothCells } from '../../../src/light/map/smooth-cells.ts'
import { normal } from '../pictures.ts'

const [COLUMNS, ROWS] = [120, 80]

test('the noise that smoothing leaves is as large as it is stated', () => {
  const sd = 0.05
  const noise = normal(11)
  const lnRatio = Float32Array.from({ length: COLUMNS * ROWS }, () => sd * noise())
  const lnNoise = new Float32Array(COLUMNS * ROWS).fill(sd)
  const smooth = smoothCells({
    columns: COLUMNS,
    rows: ROWS,
    lnRatio,
    lnNoise,
    noiseReach: 1,
    noiseGrowth: 1,
  })
  const rms = (of: Float32Array) => Math.sqrt(of.reduce((sum, v) => sum + v * v, 0) / of.length)
  expect(rms(smooth.lnRatio)).toBeLessThan(0.2 * sd)
  // Some 160 independent patches of the largest neighbourhood: 5 % of scatter.
  expect(rms(smooth.lnNoise) / rms(smooth.lnRatio)).toBeGreaterThan(0.85)
  expect(rms(smooth.lnNoise) / rms(smooth.lnRatio)).toBeLessThan(1.2)
})
