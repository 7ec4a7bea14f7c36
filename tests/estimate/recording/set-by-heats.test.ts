import { expect, test } from 'vitest'
import { scaleByHeats, stepsSince } from '../../../src/estimate/recording/set-by-heats.ts'
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

test('a changed exposure between a reading and the nearest heat counts, one beyond it does not', () => {
  const jumps = [{ seconds: 30, stepK: 8 }]
  expect(stepsSince(40, [heat(SILVER_K)], jumps)).toBe(8)
  expect(stepsSince(25, [heat(SILVER_K)], jumps)).toBe(0)
  expect(stepsSince(40, [heat(SILVER_K), { ...heat(COPPER_K), seconds: 50 }], jumps)).toBe(0)
})
