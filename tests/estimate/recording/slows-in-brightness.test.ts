import { expect, test } from 'vitest'
import { plateausOf } from '../../../src/estimate/recording/slows-in-brightness.ts'
import { seeded } from '../../accuracy/random.ts'

/** c2 over the red at which 52 measured cameras see a glow (rawtoaces-data: 634 nm), K. */
const C2_OVER_RED = 0.014387768775 / 634e-9

/** Sixty seconds of a bar that cools by 4 K/s and stands from 20 to 32 s. */
const stands = (t: number) => 1280 - 4 * (t < 20 ? t : Math.max(20, t - 12))
const goesOn = (t: number) => 1280 - 3.2 * t

function curve(byColour: (t: number) => number, byLight: (t: number) => number, jumps: number[]) {
  const random = seeded(5)
  const seconds = Float64Array.from({ length: 600 }, (_, i) => i / 10)
  const jumped = (t: number) => jumps.filter((at) => at <= t).length * Math.LN2
  return {
    seconds,
    temperatureK: seconds.map((t) => byColour(t) + 0.8 * random.normal()),
    noiseK: seconds.map(() => 0.8),
    commonK: seconds.map(() => 20),
    lnRed: seconds.map((t) => -C2_OVER_RED / byLight(t) + jumped(t) + 0.005 * random.normal()),
    jumps: jumps.map((at) => ({ seconds: at, stepK: 5 })),
  }
}

test('a plateau that the brightness shows too is one', () => {
  const [plateau, ...others] = plateausOf(curve(stands, stands, []))
  expect(others).toEqual([])
  expect(Math.abs(plateau!.fromSeconds - 20)).toBeLessThan(0.5)
  expect(Math.abs(plateau!.toSeconds - 32)).toBeLessThan(0.5)
})

test('where the brightness goes on as before the picture made it, not the metal', () => {
  expect(plateausOf(curve(stands, goesOn, []))).toEqual([])
})

test('a camera that holds the brightness, or changes its exposure near by, says nothing against it', () => {
  expect(plateausOf(curve(stands, () => 1280, []))).toHaveLength(1)
  expect(plateausOf(curve(stands, goesOn, [25]))).toHaveLength(1)
})
