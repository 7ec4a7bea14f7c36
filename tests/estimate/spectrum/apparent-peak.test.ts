import { expect, test } from 'vitest'
import { apparentPeak, peakWavelengthNm } from '../../../src/estimate/spectrum/apparent-peak.ts'

const nm = Array.from({ length: 401 }, (_, i) => 400 + i)

test('Wien’s displacement law: 2897.77 µm K over the temperature (CODATA 2018)', () => {
  expect(peakWavelengthNm(2897.771955)).toBeCloseTo(1000, 5)
  expect(peakWavelengthNm(1000)).toBeCloseTo(2897.772, 3)
})

test('the peak is that of the signal’s course, and the temperature what Wien would make of it', () => {
  const signal = nm.map((at) => Math.exp(-(((at - 640) / 80) ** 2)))
  const peak = apparentPeak(nm, signal)!
  expect(peak.wavelengthNm).toBe(640)
  expect(peak.temperatureK).toBeCloseTo(2897771.955 / 640, 2)
})

test('one noisy sample is no peak: means over 10 nm count', () => {
  const signal = nm.map((at) => (at === 450 ? 3 : Math.exp(-(((at - 640) / 80) ** 2))))
  expect(apparentPeak(nm, signal)!.wavelengthNm).toBe(640)
  // Steps of 20 nm: each sample stands alone.
  const sparse = nm.filter((at) => at % 20 === 10)
  expect(
    apparentPeak(
      sparse,
      sparse.map((at) => (at === 450 ? 3 : 1)),
    )!.wavelengthNm,
  ).toBe(450)
})

test('a signal that rises to its end peaks there, one without light nowhere', () => {
  expect(
    apparentPeak(
      nm,
      nm.map((at) => at - 399),
    )!.wavelengthNm,
  ).toBeGreaterThanOrEqual(795)
  expect(
    apparentPeak(
      nm,
      nm.map(() => 0),
    ),
  ).toBeNull()
  expect(
    apparentPeak(
      nm,
      nm.map(() => -1),
    ),
  ).toBeNull()
})
