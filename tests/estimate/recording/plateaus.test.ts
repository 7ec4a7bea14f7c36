import { describe, expect, test, vi } from 'vitest'
import { FALSE_ALARM_RATE, findPlateaus } from '../../../src/estimate/recording/plateaus.ts'
import { type Random, seeded } from '../../accuracy/random.ts'
import { simulatedCurve } from './simulated-curves.ts'

const COUNT = 200
/** Of each of the ways in which a curve may differ from the plain one. */
const FEW = 100

/** Curves without a plateau but with what else happens: each a temperature against time. */
const OTHERWISE: Record<string, (random: Random) => (t: number) => number> = {
  'noise that neighbours share': (random) => {
    let drift = 0
    const rate = 1 + 8 * random.uniform()
    return (t) => {
      drift = 0.85 * drift + random.normal()
      return 300 + 1050 * Math.exp((-t * rate) / 1050) + drift
    }
  },
  'a drift that wanders': (random) => {
    let drift = 0
    const rate = 1 + 8 * random.uniform()
    return (t) => {
      drift += 0.15 * random.normal()
      return 300 + 1050 * Math.exp((-t * rate) / 1050) + drift + random.normal()
    }
  },
  'a steady heat': (random) => () => 1200 + 1.5 * random.normal(),
  'power on, then off': (random) => {
    const off = 30 + 20 * random.uniform()
    const rise = (t: number) => 1450 - 500 * Math.exp(-t / 20)
    return (t) =>
      (t < off ? rise(t) : 300 + (rise(off) - 300) * Math.exp((off - t) / 120)) + random.normal()
  },
  'single readings far off': (random) => (t) =>
    300 + 1050 * Math.exp(-t / 150) + random.normal() * (random.uniform() < 0.03 ? 15 : 1),
}

vi.setConfig({ testTimeout: 120_000 })

describe('recordings without a plateau', () => {
  test(`give at most ${COUNT * FALSE_ALARM_RATE} false alarms in ${COUNT}`, () => {
    const random = seeded(31)
    let alarms = 0
    for (let i = 0; i < COUNT; i++)
      if (findPlateaus(simulatedCurve({ random, plateau: false }).curve).length > 0) alarms++
    expect(alarms).toBeLessThanOrEqual(COUNT * FALSE_ALARM_RATE)
  })

  for (const [name, make] of Object.entries(OTHERWISE))
    test(`give none the more for ${name}`, () => {
      const random = seeded(32)
      let alarms = 0
      for (let i = 0; i < FEW; i++) {
        const truth = make(random)
        const perSecond = 2 + 8 * random.uniform()
        const seconds = Float64Array.from(
          { length: Math.round(80 * perSecond) },
          (_, k) => k / perSecond,
        )
        if (findPlateaus({ seconds, temperatureK: seconds.map(truth) }).length > 0) alarms++
      }
      expect(alarms).toBeLessThanOrEqual(FEW * FALSE_ALARM_RATE)
    })
})

describe('recordings with a plateau', () => {
  const found = (curves: number, undercooled: boolean) => {
    const random = seeded(33)
    let count = 0
    let more = 0
    const away: number[] = []
    const level: number[] = []
    for (let i = 0; i < curves; i++) {
      const undercoolingK = undercooled ? 8 + 12 * random.uniform() : 0
      const { curve, plateau, levelK } = simulatedCurve({ random, plateau: true, undercoolingK })
      const all = findPlateaus(curve)
      if (all.length > 1) more++
      const hit = all.find((p) => p.fromSeconds < plateau![1] && p.toSeconds > plateau![0])
      if (!hit) continue
      count++
      away.push(Math.abs(hit.fromSeconds - plateau![0]), Math.abs(hit.toSeconds - plateau![1]))
      level.push(Math.abs(hit.levelK - levelK))
    }
    const share = (values: number[], at: number) =>
      values.sort((a, b) => a - b)[Math.floor(at * (values.length - 1))]!
    return {
      count,
      more,
      away: (at: number) => share(away, at),
      level: (at: number) => share(level, at),
    }
  }

  test('are found in 190 of 200, their ends to half a second', () => {
    const { count, more, away, level } = found(COUNT, false)
    expect(count).toBeGreaterThanOrEqual(190)
    expect(more).toBeLessThanOrEqual(2)
    expect(away(0.9)).toBeLessThan(0.5)
    expect(level(0.95)).toBeLessThan(1)
  })

  test('after undercooling count by the plateau, not by the dip', () => {
    const { count, more, away, level } = found(FEW, true)
    expect(count).toBeGreaterThanOrEqual(0.95 * FEW)
    expect(more).toBeLessThanOrEqual(0.02 * FEW)
    expect(away(0.8)).toBeLessThan(0.5)
    expect(level(0.95)).toBeLessThan(1)
  })
})

test('molten lead of a textbook freezes from 10 to 310 s at its published point', () => {
  // Exercise on 3 kg of lead: from 605 to 600 K in 10 s, at 600 K for 300 s, to 595 K in 8.4 s more
  // (physicsforums.com/threads/specific-heat-capacity.405508). ITS-90, secondary points: 600.612 K.
  const lead = (t: number) => (t < 10 ? 605 - 0.5 * t : t < 310 ? 600 : 600 - (5 / 8.4) * (t - 310))
  const seconds = Float64Array.from({ length: 5 * 318 }, (_, i) => i / 5)
  const random = seeded(7)
  const temperatureK = seconds.map((t) => lead(t) + 0.2 * random.normal())
  const [plateau, ...others] = findPlateaus({ seconds, temperatureK })
  expect(others).toEqual([])
  expect(plateau).toMatchObject({ kind: 'plateau', during: 'cooling' })
  expect(Math.abs(plateau!.fromSeconds - 10)).toBeLessThan(0.5)
  expect(Math.abs(plateau!.toSeconds - 310)).toBeLessThan(0.5)
  expect(Math.abs(plateau!.levelK - 600.612)).toBeLessThan(1)
  // The slope that is left within it is a rectangle of its height (JCGM 100:2008, 4.3.7), noise a slope's
  // uncertainty over the same stretch.
  const { slopeWithin, slopeWithinUncertainty, levelUncertaintyK } = plateau!
  const stretch = (plateau!.toSeconds - plateau!.fromSeconds) / Math.sqrt(12)
  expect(
    levelUncertaintyK / (stretch * Math.hypot(slopeWithin, slopeWithinUncertainty)),
  ).toBeCloseTo(1, 9)
  expect(levelUncertaintyK).toBeLessThan(0.1)
})
