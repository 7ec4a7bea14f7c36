import { describe, expect, test } from 'vitest'
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

describe('a line holds as far as', () => {
  const holds = (other: GlowInput, first = input) => lines(first, other) === 1

  test.each<readonly [string, (ln: number) => GlowInput, number]>([
    ['0.002 of green, 0.7 K', (ln) => seen([r, g * Math.exp(ln), b]), 0.002],
    ['0.006 of blue', (ln) => seen([r, g, b * Math.exp(ln)]), 0.006],
  ])('%s', (_, at, limit) => {
    for (const sign of [1, -1])
      expect([0.95, 1.05].map((share) => holds(at(sign * share * limit)))).toEqual([true, false])
  })

  test('half of the noise, a tenth of a width, four in a thousand of the pixels', () => {
    const noisy = (times: number): GlowInput => ({
      ...input,
      glow: {
        ...input.glow,
        covariance: [
          [1e-8, 0, 0],
          [0, times * 1e-8, 0],
          [0, 0, 1e-8],
        ],
      },
    })
    expect([1.95, 2.05].map((times) => holds(noisy(times)))).toEqual([true, false])
    const quality = (change: Partial<GlowInput['quality']>) =>
      holds({ ...input, quality: { ...input.quality, ...change } })
    // Of the larger one: 80 is nine tenths of 88.9.
    expect([88.4, 89.4].map((glowWidthPixels) => quality({ glowWidthPixels }))).toEqual([
      true,
      false,
    ])
    expect([0.0043, 0.0046].map((clippedShare) => quality({ clippedShare }))).toEqual([true, false])
  })

  test('levels of a tone curve: 2 % and a half of an 8-bit code', () => {
    const at = (red: number): GlowInput => ({
      ...input,
      linearity: { kind: 'single', curveId: 'c', space: 'srgb', storedLevels: [red, 0.2, 0.1] },
    })
    expect([0.5118, 0.5127].map((red) => holds(at(red), at(0.5)))).toEqual([true, false])
    expect([0.0121, 0.0124].map((red) => holds(at(red), at(0.01)))).toEqual([true, false])
  })
})
