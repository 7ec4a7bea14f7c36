/**
 * Maps in short form, on a few measured cameras with the locus of all others; the full bench
 * (npm run accuracy -- --only map) has all of them and more scenes.
 */
import { expect, test } from 'vitest'
import { testSet } from './cameras.ts'
import { MAPS, scoreMaps } from './heat-maps.ts'
import { spotTrial } from './spot-bench.ts'

/** A bar of quality 95 whose spot of 124 K is 25 pixels wide. */
const SPOTTED = 1006
const PATIENCE_MS = 120_000
const set = testSet()
const scored = (name: string, cameras: number) =>
  scoreMaps(set, MAPS.find((kind) => kind.name === name)!, { draws: 1, cameras })

test(
  'differences along a gradient are true, and the gradient is right within what a camera leaves open',
  () => {
    const { coverage95, gradientRmsK, refused } = scored('map, gradient, salt', 3)
    expect(refused).toBe(0)
    // 120 pairs of three cameras, each with its own error of the slope.
    expect(coverage95).toBeGreaterThan(0.8)
    // Measured on all cameras: 6.7 K of 100 K.
    expect(gradientRmsK).toBeLessThan(13)
  },
  PATIENCE_MS,
)

test('in JPEG of quality 80 to 95 even bars show no spot, and what is told rises above what can be', () => {
  const even = [0, 1, 2, 3, 4, 5].map((index) => spotTrial(index, false))
  expect(even.flatMap(({ told }) => told)).toEqual([])
  const { told, found, leastK, surface } = spotTrial(SPOTTED, true)
  expect(found).toBe(true)
  expect(told).toHaveLength(1)
  expect(leastK).toBeGreaterThan(3)
  // One surface in all of them: brighter blocks and a spot whose colour is smeared are none.
  expect([...even.map((bar) => bar.surface), surface]).toEqual([0, 0, 0, 0, 0, 0, 0])
}, 120_000)

test('flakes of another emissivity are told as surface, not heat', () => {
  const { surface, spotted } = scored('map, flakes', 2)
  expect(surface).toBe(2)
  expect(spotted).toBe(0)
}, 120_000)
