import { describe, expect, test } from 'vitest'
import { nextExposure } from '../../../src/light/live/longest-exposure.ts'
import { Rolling } from '../../../src/light/live/rolling.ts'

/** What is said of frames whose ln R is this. */
function motion(levels: readonly number[]) {
  const rolling = new Rolling()
  for (const level of levels) rolling.add(-2, level)
  return rolling.get()?.motion ?? null
}
const frames = (level: (i: number) => number) => Array.from({ length: 30 }, (_, i) => level(i))

describe('the light from frame to frame', () => {
  test('is judged from three frames on', () => {
    expect([2, 3].map((count) => motion(new Array(count).fill(-1)))).toEqual([null, 'steady'])
  })

  test('flickers where it swings by 4 %', () => {
    const swinging = (ln: number) => motion(frames((i) => (i % 2) * ln))
    expect([0.038, 0.042].map(swinging)).toEqual(['steady', 'flicker'])
  })

  test('flickers where more than 55 of 100 steps turn back, else the glow or the hand moves', () => {
    /** Up and down for so many turns, then on. */
    const turning = (turns: number) => {
      let level = 0
      return motion(
        frames((i) => {
          level += i <= turns && i % 2 === 0 ? -0.05 : 0.05
          return level
        }),
      )
    }
    // Of 28.
    expect([14, 17].map(turning)).toEqual(['moving', 'flicker'])
  })

  test('moves where it scatters by 0.12 over the second that is looked at', () => {
    // Even steps: a median deviation of 7.5 of them, 1.4826 times it as standard deviation.
    const climbing = (sd: number) => motion(frames((i) => (i * sd) / 7.5 / 1.4826))
    expect([0.115, 0.125].map(climbing)).toEqual(['steady', 'moving'])
  })
})

describe('the next exposure of a search', () => {
  const next = (level: number, clipped = 0) => nextExposure(100, level, clipped, [1, 10_000])

  test('brings the brightest channel to a third of a stop below the top', () => {
    // Two thirds of a stop of linear light are 0.63, a third 0.79: it aims between.
    expect(Math.log2(1 / ((0.25 * next(0.25)!) / 100))).toBeGreaterThan(0.33)
    expect(Math.log2(1 / ((0.25 * next(0.25)!) / 100))).toBeLessThan(0.5)
  })

  test('is half of one that clips a pixel in a thousand', () => {
    expect([0.00095, 0.00105].map((share) => next(0.75, share))).toEqual([null, 50])
  })

  test('is the same within a sixth of a stop', () => {
    const off = (stops: number) => next(0.75 * 2 ** stops)
    expect([-0.18, -0.155, 0.155, 0.18].map((stops) => off(stops) === null)).toEqual([
      false,
      true,
      true,
      false,
    ])
  })

  test('is eight times as long at most', () => {
    expect(next(0.01)).toBe(800)
  })
})
