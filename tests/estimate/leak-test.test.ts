import { describe, expect, test } from 'vitest'
import { CAMERA_LOCUS } from '../../src/estimate/camera-locus/camera-locus.ts'
import { cameraModel } from '../../src/estimate/camera-model.ts'
import { estimateGlow } from '../../src/estimate/estimate-glow.ts'
import { leakAfterTests, leakRanges } from '../../src/estimate/infrared-leak.ts'
import { type LeakTest, leakTestLikelihood } from '../../src/estimate/leak-test.ts'
import type { WindowSlope } from '../../src/estimate/types.ts'
import type { LinearColour } from '../../src/light/image.ts'
import { windowOf } from '../../src/session/reading/glow-input.ts'
import { colour, DAYLIGHT, reading, seen } from './inputs.ts'

const tested = (test: LeakTest['test'], seenIt: boolean): LeakTest[] => [{ test, seen: seenIt }]

describe('own tests of the infrared filter', () => {
  test('half of the people see the plate violet where its blue is three times that of no leak', () => {
    const blueAt490C = (leak: number) =>
      cameraModel(CAMERA_LOCUS, 'display-p3', DAYLIGHT, {
        leak: { mean: leak, sd: 0, weight: 1 },
        rendered: false,
      }).blue(763).mean
    expect(blueAt490C(1e-4) / blueAt490C(0)).toBeGreaterThan(3)
    expect(leakTestLikelihood(tested('hot plate', true), 1e-4)).toBeCloseTo(0.5, 3)
    expect(leakTestLikelihood(tested('hot plate', true), 1e-3)).toBeGreaterThan(0.99)
  })

  test('seen and not seen are all there is', () => {
    for (const leak of [1e-5, 2e-4, 5e-3])
      for (const id of ['remote control', 'hot plate'] as const) {
        const both = [true, false].map((yes) => leakTestLikelihood(tested(id, yes), leak))
        expect(both[0]! + both[1]!).toBeCloseTo(1, 9)
      }
  })

  test('the result moves with what was seen, and the ranges follow it', () => {
    const none = leakAfterTests([])
    const unseen = leakAfterTests(tested('hot plate', false))
    const shown = leakAfterTests(tested('hot plate', true))
    expect(unseen.high95).toBeLessThan(3e-4)
    expect(unseen.median).toBeLessThan(none.median)
    expect(shown.low95).toBeGreaterThan(3e-5)
    expect(shown.median).toBeGreaterThan(none.median)
    const large = (tests: readonly LeakTest[]) =>
      leakRanges(tests).reduce((sum, { mean, weight }) => (mean > 5e-4 ? sum + weight : sum), 0)
    expect(large(tested('hot plate', false))).toBeLessThan(0.02)
    expect(large(tested('hot plate', true))).toBeGreaterThan(large([]))
  })

  test.each(['hot plate', 'remote control'] as const)(
    'an ordinary photo with a card is read surer where the %s was not seen',
    (id) => {
      const width = (leakTests?: readonly LeakTest[]) => {
        const estimate = estimateGlow(
          reading(seen(1173), { faithfulColours: false, ...(leakTests && { leakTests }) }),
        )
        if (estimate.kind !== 'temperature') throw new Error(estimate.kind)
        return estimate.expandedUncertaintyK
      }
      // Measured: 156 and 162 K of 190 K.
      expect(width(tested(id, false))).toBeLessThan(0.9 * width())
    },
  )
})

test('heat-absorbing glass takes the leak out of a reading', () => {
  const glass = windowOf('heat-absorbing')!
  /** The mean camera with a filter that passes a thousandth, as it sees 1173 K. */
  const shown = (infrared: number, lnGreenOverRed: number) => {
    const leak = { mean: 1e-3 * infrared, sd: 0, weight: 1 }
    const camera = cameraModel(CAMERA_LOCUS, 'display-p3', DAYLIGHT, { leak, rendered: false })
    // In Wien's approximation a slope acts as so much on green over red, twice that on blue over red.
    const [green, blue] = [camera.green(1173).mean, camera.blue(1173).mean]
    return colour(green * Math.exp(lnGreenOverRed), blue * Math.exp(2 * lnGreenOverRed))
  }
  const read = (glow: LinearColour, window: WindowSlope | null) => {
    const estimate = estimateGlow(reading(glow, { faithfulColours: false, window }))
    if (estimate.kind !== 'temperature') throw new Error(estimate.kind)
    return estimate
  }
  const bare = read(shown(1, 0), null)
  const behind = read(shown(glass.infrared!, glass.lnGreenOverRed), glass)
  for (const { interval95K } of [bare, behind]) {
    expect(interval95K[0]).toBeLessThan(1173)
    expect(interval95K[1]).toBeGreaterThan(1173)
  }
  // Measured: 255 and 162 K.
  expect(behind.expandedUncertaintyK).toBeLessThan(0.9 * bare.expandedUncertaintyK)
  // The figure says so of the light as it came through.
  expect(behind.findings.some(({ code }) => code === 'infrared leak')).toBe(false)
})
