import { expect, test } from 'vitest'
import { standingLine } from '../../../src/estimate/live/standing-line.ts'
import type { GlowInput } from '../../../src/estimate/types.ts'
import type { Triple } from '../../../src/numerics/matrix3.ts'
import { input } from './live-glow.ts'

/** How many lines are worked out for these looks. */
function lines(...looks: readonly GlowInput[]): number {
  let count = 0
  const lineOf = standingLine((glow) => {
    count++
    return { estimate: null as never, input: glow, lnRatio: 0, slopeK: null }
  })
  for (const look of looks) lineOf(look)
  return count
}

const [r, g, b] = input.glow.mean
const seen = (mean: Triple): GlowInput => ({ ...input, glow: { ...input.glow, mean } })

test('a glow that stands keeps its line', () => {
  expect(lines(input, structuredClone(input))).toBe(1)
  expect(lines(input, seen([r, g * 1.0015, b * 1.004]), seen([r * 1.0005, g * 0.9995, b]))).toBe(1)
})

test('what drifts slowly gets a new one as soon as it is out of reach of the line', () => {
  const drifting = Array.from({ length: 11 }, (_, i) => seen([r, g * Math.exp(0.001 * i), b]))
  expect(lines(...drifting)).toBe(4)
})

test.each<readonly [string, GlowInput]>([
  ['greener', seen([r, g * 1.003, b])],
  ['bluer', seen([r, g, b * 1.01])],
  ['partly clipped', { ...input, quality: { ...input.quality, clippedShare: 0.01 } }],
  ['of another surface', { ...input, surface: { ...input.surface, lnGreenOverRed: 0.001 } }],
  ['under another balance', { ...input, balanceState: { kind: 'lamp', colourTemperatureK: null } }],
  ['beside a test of the filter', { ...input, leakTests: [] }],
  ['on another curve', { ...input, linearity: { kind: 'raw' } }],
])('a glow %s gets a new one', (_, other) => {
  expect(lines(input, other)).toBe(2)
})
