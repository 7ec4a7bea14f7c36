import { expect, test } from 'vitest'
import { straightLine, wienLine } from '../../../src/estimate/spectrum/wien-line.ts'

/** Second radiation constant, m K (CODATA 2018). */
const C2 = 1.438776877e-2
const nm = Array.from({ length: 31 }, (_, i) => 500 + 10 * i)
const wien = (kelvin: number) =>
  nm.map((at) => 1e20 * (at / 1000) ** -5 * Math.exp(-C2 / (at * 1e-9 * kelvin)))
const share = (of: readonly number[], part: number) => of.map((value) => part * value)

test('a straight line weighted by the uncertainties of its points', () => {
  const x = [1, 2, 3, 4]
  const y = [2.1, 3.9, 6.2, 7.8]
  const even = straightLine(x, y, [1, 1, 1, 1])!
  // By hand, JCGM 100:2008, H.3.3: Sxx = 5, Sxy = 9.7, means 2.5 and 5.
  expect(even.slope).toBeCloseTo(9.7 / 5, 12)
  expect(even.intercept).toBeCloseTo(5 - (2.5 * 9.7) / 5, 12)
  expect(even.slopeUncertainty).toBeCloseTo(1 / Math.sqrt(5), 12)
  // A point of next to no weight might as well be missing.
  const three = straightLine([...x, 9], [...y, 100], [1, 1, 1, 1, 1e9])!
  expect(three.slope).toBeCloseTo(even.slope, 6)
  // Twice the uncertainty, twice that of the slope.
  expect(straightLine(x, y, [2, 2, 2, 2])!.slopeUncertainty).toBeCloseTo(2 / Math.sqrt(5), 12)
})

test('two points or one abscissa have no line', () => {
  expect(straightLine([1, 2], [1, 2], [1, 1])).toBeNull()
  expect(straightLine([2, 2, 2], [1, 2, 3], [1, 1, 1])).toBeNull()
})

test.each([900, 1500, 2500])(
  'Wien’s law at %d K is a straight line of its temperature',
  (kelvin) => {
    const radiance = wien(kelvin)
    const line = wienLine(nm, radiance, share(radiance, 0.01), radiance)!
    expect(line.temperatureK! / kelvin).toBeCloseTo(1, 9)
    expect(line.x[0]).toBeCloseTo(2, 12)
    // u(T) = T^2 / c2 times the slope's: by hand from 31 points of 1 %.
    const um = nm.map((at) => 1000 / at)
    const mean = um.reduce((a, b) => a + b, 0) / um.length
    const spread = um.reduce((sum, at) => sum + (at - mean) ** 2, 0)
    expect(
      line.standardUncertaintyK! / ((kelvin ** 2 / (C2 * 1e6)) * (0.01 / Math.sqrt(spread))),
    ).toBeCloseTo(1, 6)
  },
)

test('samples that the model does not lift five standard deviations above noise take no part', () => {
  const radiance = wien(1500)
  const at = (times: number) => wienLine(nm, radiance, share(radiance, 1 / times), radiance)
  expect(at(4.9)).toBeNull()
  expect(at(5.1)!.x).toHaveLength(31)
  // Not by their own value: noise that lifts a dark sample does not bring it in.
  const lifted = radiance.map((value, i) => (i < 5 ? 100 * value : value))
  const sigma = radiance.map((value, i) => (i < 5 ? value : value / 100))
  expect(wienLine(nm, lifted, sigma, radiance)!.temperatureK).toBeCloseTo(1500, 5)
  // At or below zero there is no logarithm.
  expect(
    wienLine(
      nm,
      radiance.map((v, i) => (i === 7 ? 0 : v)),
      share(radiance, 0.01),
      radiance,
    )!.x,
  ).toHaveLength(30)
})

test('a line that does not fall has no temperature', () => {
  const rising = nm.map((at) => (at / 1000) ** -5 * Math.exp(1000 / at))
  const line = wienLine(nm, rising, share(rising, 0.01), rising)!
  expect([line.temperatureK, line.standardUncertaintyK]).toEqual([null, null])
})
