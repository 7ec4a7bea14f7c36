import { describe, expect, test } from 'vitest'
import { courseAtEnd, peakOf } from '../../../src/estimate/recording/course.ts'
import { rateShare } from '../../../src/estimate/recording/course-by-level.ts'
import { passage, timeAbove } from '../../../src/estimate/recording/crossings.ts'
import type { HeatCurve } from '../../../src/estimate/recording/heat-curve.ts'
import { fitLaws, radiativeCourse } from '../../../src/estimate/recording/laws.ts'
import { meaningsOf } from '../../../src/estimate/recording/plateau-meaning.ts'
import { findPlateaus } from '../../../src/estimate/recording/plateaus.ts'
import { slopeAt, slopeBetween } from '../../../src/estimate/recording/slope.ts'
import {
  exponentialTemperature,
  radiativeCoolingSeconds,
  radiativeRate,
  radiativeTemperature,
} from '../../../src/physics/cooling.ts'
import { kelvinFromCelsius } from '../../../src/physics/units.ts'
import { seeded } from '../../accuracy/random.ts'
import { expectClose } from '../../close-to.ts'

const BAR = { densityKgM3: 7600, specificHeatJKgK: 650, volumeOverAreaM: 0.0025, emissivity: 0.85 }

function curveOf(
  truth: (t: number) => number,
  {
    duration,
    perSecond = 5,
    noiseK = 1,
    commonK = 0,
    seed = 1,
  }: {
    duration: number
    perSecond?: number
    noiseK?: number
    commonK?: number
    seed?: number
  },
): HeatCurve {
  const random = seeded(seed)
  const seconds = Float64Array.from(
    { length: Math.round(duration * perSecond) },
    (_, i) => i / perSecond,
  )
  return {
    seconds,
    temperatureK: seconds.map((t) => truth(t) + noiseK * random.normal()),
    noiseK: seconds.map(() => noiseK),
    commonK: seconds.map(() => commonK),
  }
}

describe('slopes', () => {
  test('say what most of their ± comes from, and nothing where they are sure', () => {
    const fall = (t: number) => 1300 - 3 * t
    const limitOf = (curve: HeatCurve) => slopeBetween(curve, 0, 40)!.limit
    const still = { duration: 40, noiseK: 0.1 }
    expect(limitOf(curveOf(fall, still))).toBeNull()
    expect(limitOf(curveOf(fall, { duration: 40, noiseK: 60 }))).toBe('noise')
    expect(limitOf(curveOf(fall, { ...still, commonK: 100 }))).toBe('scale')
    const course = { temperatureK: [1300, 1200], lnRed: [-1, -2] }
    const columns = {
      temperatureK: Float32Array.from(course.temperatureK),
      lnRed: Float32Array.from(course.lnRed),
    }
    const of = (by: 'level' | 'ratio', swept: boolean) =>
      limitOf({ ...curveOf(fall, still), rateShare: rateShare(columns, by, swept) })
    expect(of('ratio', false)).toBe('exposure')
    expect(of('ratio', true)).toBe('exposure')
    expect(of('level', false)).toBe('tone curve')
    expect(of('level', true)).toBeNull()
    const jumps = [{ seconds: 20, stepK: 60 }]
    expect(limitOf({ ...curveOf(fall, still), jumps })).toBe('jump')
  })

  test('cover the truth by twice their uncertainty in 95 of 100 curves', () => {
    let inside = 0
    for (let seed = 0; seed < 100; seed++) {
      const curve = curveOf((t) => 1300 - 3 * t, { duration: 40, seed })
      const found = slopeAt(curve, 20)!
      if (Math.abs(found.slope + 3) <= 2 * found.standardUncertainty) inside++
    }
    expect(inside).toBeGreaterThanOrEqual(90)
    expect(inside).toBeLessThan(100)
  })

  test('follow a radiative cooling to 3 %', () => {
    const rate = radiativeRate(BAR)
    const curve = curveOf((t) => radiativeTemperature(rate, 1300, t), { duration: 46 })
    for (const at of [5, 15, 25, 40])
      expectClose(
        slopeAt(curve, at)!.slope,
        -rate * radiativeTemperature(rate, 1300, at) ** 4,
        0.03,
      )
  })

  test('share what shifts the whole curve, by Wien twice its part of the temperature', () => {
    const curve = curveOf((t) => 1200 - 5 * t, { duration: 10, noiseK: 0, commonK: 12 })
    const found = slopeBetween(curve, 0, 10)!
    expectClose(found.standardUncertainty, (2 * 5 * 12) / found.temperatureK, 1e-6)
  })

  test('are not told across a gap', () => {
    const curve = curveOf((t) => 1200 - t, { duration: 20 })
    const seconds = Float64Array.from(curve.seconds, (t) => (t < 10 ? t : t + 20))
    expect(slopeBetween({ ...curve, seconds }, 5, 35)).toBeNull()
  })
})

describe('times', () => {
  test('from 1300 to 1000 K a 10 mm bar takes 46.5 s by radiation', () => {
    // Closed form; see tests/physics/cooling.test.ts.
    const rate = radiativeRate(BAR)
    const curve = curveOf((t) => radiativeTemperature(rate, 1320, t), { duration: 60 })
    const found = passage(curve, 1300, 1000)
    if (found.kind !== 'passed') throw new Error(found.kind)
    expect(Math.abs(found.seconds - 46.5)).toBeLessThan(3 * found.standardUncertainty)
    expect(found.standardUncertainty).toBeLessThan(0.5)
  })

  test('a curve that ends above says which end was not reached', () => {
    const curve = curveOf((t) => 1300 - 5 * t, { duration: 50 })
    expect(passage(curve, kelvinFromCelsius(800), kelvinFromCelsius(500))).toEqual({
      kind: 'not reached',
      which: 'to',
    })
    expect(passage(curve, 1400, 1200)).toEqual({ kind: 'not reached', which: 'from' })
  })

  test('above a temperature is from where it rises through it to where it falls', () => {
    const curve = curveOf((t) => (t < 30 ? 1000 + 10 * t : 1300 - 5 * (t - 30)), { duration: 80 })
    const found = timeAbove(curve, 1200)
    // Up at 20 s, down at 50 s.
    expect(Math.abs(found.seconds - 30)).toBeLessThan(3 * found.standardUncertainty + 0.05)
    expect(timeAbove(curve, 900).seconds).toBeCloseTo(79.8, 1)
    expect(timeAbove(curve, 1400).seconds).toBe(0)
  })
})

describe('course', () => {
  test('the peak is the mean about the highest place', () => {
    const curve = curveOf((t) => 1300 - Math.abs(t - 20), { duration: 40, noiseK: 0.2 })
    const peak = peakOf(curve)!
    expect(Math.abs(peak.temperatureK - 1300)).toBeLessThan(1)
    expect(Math.abs(peak.seconds - 20)).toBeLessThan(1)
  })

  test('a soak is steady, a warm-up rising, and a few readings tell neither', () => {
    expect(
      courseAtEnd(
        curveOf(() => 1100, { duration: 300 }),
        60,
      )?.verdict,
    ).toBe('steady')
    expect(
      courseAtEnd(
        curveOf((t) => 1100 + 0.2 * t, { duration: 300 }),
        60,
      )?.verdict,
    ).toBe('rising')
    const short = curveOf(() => 1100, { duration: 3, noiseK: 3 })
    expect(courseAtEnd(short, 60)?.verdict).toBe('not known')
  })
})

describe('laws', () => {
  test('Newton: time constant and end are found, and the law named', () => {
    const curve = curveOf((t) => exponentialTemperature(1250, 950, 60, t), {
      duration: 240,
      noiseK: 0.5,
    })
    const [first] = fitLaws(curve, 0, 240, 293)
    expect(first).toMatchObject({ law: 'exponential', fits: true })
    expect(Math.abs(first!.tauSeconds - 60)).toBeLessThan(3 * first!.tauUncertainty)
    expectClose(first!.tauSeconds, 60, 0.02)
    expect(Math.abs(first!.endK - 1250)).toBeLessThan(1)
  })

  test('radiation: the rate of a bar is found, and Newton does not fit as well', () => {
    const rate = radiativeRate(BAR)
    const truth = radiativeCourse(
      Float64Array.from({ length: 451 }, (_, i) => i / 5),
      1500,
      rate,
      293,
    )
    const curve = curveOf((t) => truth[Math.round(5 * t)]!, { duration: 90, noiseK: 0.5 })
    const [first, second] = fitLaws(curve, 0, 90, 293)
    expect(first).toMatchObject({ law: 'radiative', fits: true })
    expectClose(first!.rate!, rate, 0.01)
    expect(second!.fits).toBe(false)
  })

  test('the course by steps is that of the closed form', () => {
    const rate = radiativeRate(BAR)
    const course = radiativeCourse([0, 10, 30, 60], 1300, rate, 293)
    for (const [i, t] of [10, 30, 60].entries())
      expectClose(radiativeCoolingSeconds(rate, 1300, course[i + 1]!, 293), t, 1e-5)
  })

  test('a curve with a plateau fits neither', () => {
    const law = (t: number) => exponentialTemperature(300, 1350, 150, t)
    const curve = curveOf((t) => law(t < 20 ? t : Math.max(20, t - 15)), {
      duration: 70,
      noiseK: 0.5,
    })
    for (const fit of fitLaws(curve, 0, 70, 293)) expect(fit.fits).toBe(false)
  })
})

describe('what a plateau may be', () => {
  test('silver that freezes at 961.78 °C (ITS-90) is offered first at its level', () => {
    const silver = kelvinFromCelsius(961.78)
    const curve = curveOf((t) => silver + (t < 20 ? 3 * (20 - t) : Math.min(0, -3 * (t - 50))), {
      duration: 80,
    })
    const [plateau] = findPlateaus(curve)
    expect(plateau).toMatchObject({ kind: 'plateau', during: 'cooling' })
    const [first] = meaningsOf(plateau!, 5)
    expect(first).toMatchObject({ id: 'silver', condition: 'covered' })
    expectClose(first!.temperatureK, silver, 1e-9)
  })

  test('steel that brightens on cooling at 685 °C is recalescence, and no melt', () => {
    const at = kelvinFromCelsius(685)
    const curve = curveOf(
      (t) => (t < 20 ? at + 6 * (20 - t) : t < 26 ? at + 1.5 * (t - 20) : at + 9 - 6 * (t - 26)),
      { duration: 45, noiseK: 0.7 },
    )
    const [plateau] = findPlateaus(curve)
    expect(plateau).toMatchObject({ kind: 'reversal', during: 'cooling' })
    expect(meaningsOf(plateau!, 8).map(({ id }) => id)).toEqual(['recalescence', 'recalescence'])
  })
})
