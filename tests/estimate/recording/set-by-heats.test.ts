import { expect, test } from 'vitest'
import {
  heatsWith,
  scaleByHeats,
  stepsSince,
} from '../../../src/estimate/recording/set-by-heats.ts'
import { expectClose } from '../../close-to.ts'

/** ITS-90: freezing points of silver and copper, K. */
const [SILVER_K, COPPER_K] = [1234.93, 1357.77]
/** A camera of which the scale is off by a shift and a stretch of 1/T. */
const off = (kelvin: number) => 1 / (4e-5 + 0.9 / kelvin)

const heat = (temperatureK: number, standardUncertaintyK = 3) => ({
  seconds: 20,
  readK: off(temperatureK),
  temperatureK,
  standardUncertaintyK,
})

test('one heat lies on the curve, and what is away from it is as uncertain as the rate', () => {
  const { temperatureK, commonK, rateShare } = scaleByHeats([heat(SILVER_K)], 0.17)
  expectClose(temperatureK(off(SILVER_K)), SILVER_K, 1e-9)
  expectClose(commonK(SILVER_K), 3, 1e-9)
  expect(rateShare).toBe(0.17)
  // 1/T errs by 17 % of the way (Wien), and by the 3 K.
  const away = 1 / 1100 - 1 / SILVER_K
  expectClose(
    commonK(1100),
    Math.hypot((3 / SILVER_K ** 2) * 1100 ** 2, 0.17 * away * 1100 ** 2),
    1e-9,
  )
  expect(Math.abs(temperatureK(off(1100)) - 1100)).toBeLessThan(2 * commonK(1100))
})

test('two heats tell the stretch too, as far as they are apart', () => {
  const { temperatureK, rateShare } = scaleByHeats([heat(SILVER_K), heat(COPPER_K)], 0.17)
  expect(Math.abs(temperatureK(off(1290)) - 1290)).toBeLessThan(1)
  expect(Math.abs(temperatureK(off(1100)) - 1100)).toBeLessThan(3)
  expect(rateShare).toBeLessThan(0.08)
  const near = scaleByHeats([heat(SILVER_K), heat(SILVER_K + 5)], 0.17)
  expect(near.rateShare).toBeGreaterThan(0.15)
})

test('a rate that is known stays', () => {
  const { temperatureK, rateShare } = scaleByHeats([heat(SILVER_K), heat(COPPER_K)], 0)
  expect(rateShare).toBe(0)
  const [low, high] = [SILVER_K, COPPER_K].map((kelvin) => temperatureK(off(kelvin)) - kelvin)
  expect(low! * high!).toBeLessThan(0)
})

/** A heat of a curve that has been set: it reads what it is known to be, but for so much. */
const read = (temperatureK: number, offK = 0) => ({
  seconds: 20,
  readK: temperatureK + offK,
  temperatureK,
  standardUncertaintyK: 3,
})

test('one melt twice tells the shift, and nothing of the stretch', () => {
  for (const offK of [8, 12]) {
    const { temperatureK, commonK, rateShare, agrees } = scaleByHeats(
      [read(SILVER_K), read(SILVER_K, offK)],
      0.6,
    )
    expect(agrees).toBe(true)
    expect(rateShare).toBe(0.6)
    // Half of what they part, in 1/T, at silver and on the way to it.
    expectClose(temperatureK(SILVER_K + offK / 2), SILVER_K, 1e-4)
    const shift = (1 / SILVER_K - 1 / (SILVER_K + offK)) / 2
    expectClose(temperatureK(1350), 1 / (1 / 1350 + shift), 1e-9)
    expect(Math.abs(temperatureK(1350) - 1350)).toBeLessThan(commonK(1350))
    // They part by more than their ±: so does the mean (Birge ratio).
    expectClose(commonK(SILVER_K), offK / 2, 0.02)
  }
  const calm = scaleByHeats([read(SILVER_K), read(SILVER_K, 1)], 0.6)
  expectClose(calm.commonK(SILVER_K), 3 / Math.SQRT2, 1e-9)
})

test('heats that disagree by more than three standard deviations are no scale', () => {
  expect(scaleByHeats([read(SILVER_K), read(SILVER_K, 20)], 0.6).agrees).toBe(false)
  // A melt of another name: hotter on the curve, colder by what is said.
  expect(scaleByHeats([read(SILVER_K), read(1190, 150)], 0.6).agrees).toBe(false)
  // Far apart, where the rate's doubt would forgive nearly all: a curve that stands nearly still, or turns back.
  expect(scaleByHeats([read(SILVER_K), read(COPPER_K, -60)], 0.6).agrees).toBe(true)
  expect(scaleByHeats([read(SILVER_K), read(COPPER_K, -80)], 0.6).agrees).toBe(false)
  expect(scaleByHeats([read(SILVER_K), read(COPPER_K, -130)], 0.6).agrees).toBe(false)
  expect(scaleByHeats([read(SILVER_K), read(COPPER_K, -15)], 0.17).agrees).toBe(true)
  // Simulated films by colour need a third of the stretch (tests/accuracy/films.ts).
  expect(scaleByHeats([read(SILVER_K), read(COPPER_K, 240)], 0.63).agrees).toBe(true)
})

test('a changed exposure between two heats is in the second one, and in what lies beyond it', () => {
  const jumps = [{ seconds: 30, stepK: 12 }]
  const late = { ...read(SILVER_K, 12), seconds: 40 }
  const [first, second] = heatsWith([read(SILVER_K)], late, jumps)
  expect(first!.standardUncertaintyK).toBe(3)
  expect(second!.standardUncertaintyK).toBeCloseTo(Math.hypot(3, 12), 9)
  const { temperatureK, agrees } = scaleByHeats([first!, second!], 0.6)
  expect(agrees).toBe(true)
  // The first holds the curve, so that the step counts where the second stood.
  expect(Math.abs(temperatureK(SILVER_K) - SILVER_K)).toBeLessThan(1)
  expect(stepsSince(20, [first!, second!], jumps)).toBeLessThan(1)
  expect(stepsSince(40, [first!, second!], jumps)).toBeGreaterThan(11)
  expect(heatsWith([], late, jumps)).toEqual([late])
})

test('a changed exposure between a reading and the heat counts, one beyond it does not', () => {
  const jumps = [{ seconds: 30, stepK: 8 }]
  expect(stepsSince(40, [heat(SILVER_K)], jumps)).toBe(8)
  expect(stepsSince(25, [heat(SILVER_K)], jumps)).toBe(0)
})
