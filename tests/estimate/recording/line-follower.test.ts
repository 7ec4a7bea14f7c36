import { describe, expect, test } from 'vitest'
import type { LiveLine } from '../../../src/estimate/live/live-line.ts'
import { FrameBins } from '../../../src/estimate/recording/bins.ts'
import { exposureJumps, stepAtJump } from '../../../src/estimate/recording/exposure-jumps.ts'
import {
  type FollowedHeight,
  LineFollower,
  toLastHeight,
} from '../../../src/estimate/recording/reading-by-line.ts'
import { seeded } from '../../accuracy/random.ts'
import { expectClose } from '../../close-to.ts'

/** ln(G/R) of a body by Wien at 540 and 610 nm, and back: c2 (1/610 - 1/540) nm^-1. */
const WIEN = 0.014388e9 * (1 / 540 - 1 / 610)
const lnRatioAt = (temperatureK: number) => -WIEN / temperatureK

/** A whole estimate that errs by so much, K. */
const lineAt = (temperatureK: number, errorK = 0) =>
  ({
    estimate: {
      kind: 'temperature',
      temperatureK: temperatureK + errorK,
      standardUncertaintyK: 20,
      budget: [{ term: 'pixel noise', standardUncertaintyK: 12 }],
    },
    lnRatio: lnRatioAt(temperatureK) + 0.3,
    slopeK: temperatureK ** 2 / WIEN,
  }) as unknown as LiveLine

describe('a curve by whole estimates', () => {
  test('follows a cooling between and far from them', () => {
    const follower = new LineFollower()
    follower.follow(lineAt(1200), lnRatioAt(1200))
    for (const truth of [1200, 1170, 1140, 1250])
      expectClose(follower.read(lnRatioAt(truth), 0)!.temperatureK, truth, 1e-6)
    expect(follower.read(lnRatioAt(900), 0)).toBeNull()
  })

  test('has no steps where single estimates err', () => {
    const random = seeded(5)
    const follower = new LineFollower()
    let last = Number.NaN
    let largest = 0
    for (let i = 0; i < 400; i++) {
      const truth = 1250 - 0.25 * i
      if (i % 4 === 0) follower.follow(lineAt(truth, 3 * random.normal()), lnRatioAt(truth))
      const now = follower.read(lnRatioAt(truth), 0)!.temperatureK
      if (i > 40) largest = Math.max(largest, Math.abs(now - last + 0.25))
      last = now
    }
    // One estimate in ten counts: 3 K become 0.3 K, three times that at most.
    expect(largest).toBeLessThan(1)
  })

  test('of a film takes no estimate for another camera, however far off', () => {
    const [film, live] = [new LineFollower(true), new LineFollower()]
    for (const follower of [film, live]) {
      follower.follow(lineAt(1300), lnRatioAt(1300))
      follower.follow(lineAt(1290, -300), lnRatioAt(1290))
    }
    expectClose(film.read(lnRatioAt(1290), 0)!.temperatureK, 1290, 1e-6)
    expectClose(live.read(lnRatioAt(1290), 0)!.temperatureK, 990, 1e-6)
  })

  test('keeps noise and what shifts the whole curve apart', () => {
    const follower = new LineFollower()
    follower.follow(lineAt(1200), lnRatioAt(1200))
    const { noiseK, commonK, lnRatio } = follower.read(lnRatioAt(1100), 0.01)!
    // sqrt(20^2 - 12^2) = 16 K at 1200 K, by T^2 at 1100 K.
    expectClose(commonK, 16 * (1100 / 1200) ** 2, 1e-6)
    expectClose(noiseK, (0.01 * 1100 ** 2) / WIEN, 1e-6)
    expectClose(lnRatio, lnRatioAt(1100) + 0.3, 1e-6)
  })
})

test('readings are medians whose stated noise is that of the medians', () => {
  const random = seeded(8)
  const bins = new FrameBins()
  const found: number[] = []
  let stated = 0
  for (let k = 0; k < 600; k++) {
    for (let i = 0; i < 5; i++) bins.add({ plain: -2 + 0.01 * random.normal(), lnRed: 0 })
    const bin = bins.take()!
    if (k < 50) continue
    found.push(bin.plain)
    stated += bin.lnNoise / 550
  }
  const sd = Math.sqrt(found.reduce((sum, v) => sum + (v + 2) ** 2, 0) / found.length)
  expectClose(stated, sd, 0.12)
  expect(bins.take()).toBeNull()
})

test('readings taken while the mean height still moved come to where it stands, each height by itself', () => {
  const follower = new LineFollower()
  const [temperatureK, commonK] = [new Float32Array(7), new Float32Array(7).fill(10)]
  const heights: (FollowedHeight | null)[] = []
  const read = (estimateK: number) => {
    follower.follow(lineAt(estimateK), lnRatioAt(1200))
    temperatureK[heights.length] = follower.read(lnRatioAt(1200), 0)!.temperatureK
    heights.push(follower.height)
  }
  // A steady heat; estimates differ. Then another curve is known: another height.
  for (const estimateK of [1150, 1230, 1214, 1190]) read(estimateK)
  temperatureK[heights.length] = Number.NaN
  heights.push(null)
  for (const estimateK of [1500, 1510]) read(estimateK)
  expect(Math.abs(temperatureK[0]! - temperatureK[3]!)).toBeGreaterThan(20)
  const ends = [temperatureK[3]!, temperatureK[6]!]
  toLastHeight({ temperatureK, commonK }, heights)
  for (let i = 0; i < 4; i++) expectClose(temperatureK[i]!, ends[0]!, 1e-6)
  for (let i = 5; i < 7; i++) expectClose(temperatureK[i]!, ends[1]!, 1e-6)
  expect(temperatureK[4]).toBeNaN()
  expectClose(commonK[0]!, 10 * (ends[0]! / 1150) ** 2, 1e-4)
})

/** Green of the dullest glow in the test below. */
const FAINT = Math.exp(lnRatioAt(1140.4) - 0.014388e9 / 610 / 1140.4)

describe('exposure that the camera changed by itself', () => {
  const course = (step: number, seed: number) => {
    const random = seeded(seed)
    const lnRatio: number[] = []
    const lnRed: number[] = []
    for (let i = 0; i < 300; i++) {
      const t = 1250 - 0.5 * i
      lnRatio.push(lnRatioAt(t) + 0.003 * random.normal())
      // Wien at 610 nm.
      lnRed.push(-0.014388e9 / 610 / t + (i >= 120 ? step : 0) + 0.01 * random.normal())
    }
    return exposureJumps(lnRatio, lnRed)
  }

  test('is found where it happens, from a third of a stop on', () => {
    for (let seed = 0; seed < 20; seed++) {
      const found = course(Math.LN2 / 3, seed)
      expect(found).toHaveLength(1)
      // Medians of five place a step to half of their length.
      expect(Math.abs(found[0]! - 120)).toBeLessThanOrEqual(2)
    }
  })

  test('is not seen where green fades and its noise with the level takes over', () => {
    const random = seeded(3)
    const lnRatio: number[] = []
    const lnRed: number[] = []
    for (let i = 0; i < 400; i++) {
      const t = 1300 - 0.4 * i
      // Some light of the surroundings taken off too many: ln(G/R) falls ever faster.
      const green = Math.exp(lnRatioAt(t) - 0.014388e9 / 610 / t) - 0.99 * FAINT
      lnRed.push(-0.014388e9 / 610 / t + 0.01 * random.normal())
      lnRatio.push(Math.log(green * (1 + 0.03 * random.normal())) + 0.014388e9 / 610 / t)
    }
    expect(exposureJumps(lnRatio, lnRed)).toEqual([])
  })

  test('is not seen in a body that cools', () => {
    for (let seed = 0; seed < 50; seed++) expect(course(0, seed)).toEqual([])
  })
})

test('the step that another exposure puts into a curve is told from its course', () => {
  const random = seeded(12)
  const curve = (stepK: number) =>
    Array.from(
      { length: 60 },
      (_, i) => 1250 - 2 * i + (i >= 30 ? stepK : 0) + 0.3 * random.normal(),
    )
  // Medians of five err by 0.17 K, their differences twice over by three times that.
  expect(Math.abs(stepAtJump(curve(12), 30) - 12)).toBeLessThan(1.5)
  expect(stepAtJump(curve(0), 30)).toBeLessThan(1.5)
  expect(stepAtJump(curve(12), 2)).toBe(0)
})
