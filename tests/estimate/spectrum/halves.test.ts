import { describe, expect, test } from 'vitest'
import type { Halves } from '../../../src/estimate/spectrum/halves.ts'
import { INSTRUMENTS, planck } from '../../accuracy/spectrum-simulation.ts'
import { expectClose } from '../../close-to.ts'
import { perfect, perfectResponse, read, responseOf, usual } from './recordings.ts'

const response = perfectResponse()
const KELVIN = 1400
const glow = planck(KELVIN)

function halves(result: { readonly halves: Halves | null }): Halves {
  if (result.halves === null) throw new Error('no halves')
  return result.halves
}

describe('the two halves of a spectrum', () => {
  test('of a black body have one temperature, and share no sample', () => {
    const { short, long, apart } = halves(read({ recording: perfect(glow), response }))
    expectClose(short.temperatureK, KELVIN, 1e-6)
    expectClose(long.temperatureK, KELVIN, 1e-6)
    expect(apart).toBeLessThan(0.01)
    expect(short.fromNm).toBeLessThan(short.toNm)
    expect(short.toNm).toBeLessThan(long.fromNm)
    expect(long.fromNm).toBeLessThan(long.toNm)
  })

  test('meet in the middle of 1/wavelength, where both bear alike on the temperature', () => {
    const { short, long } = halves(read({ recording: perfect(glow), response }))
    // Wien: ln(signal) is straight in 1/wavelength, and its slope is the temperature.
    expectClose(1 / short.fromNm - 1 / short.toNm, 1 / long.fromNm - 1 / long.toNm, 0.1)
    expect(long.fromNm - short.toNm).toBeLessThan(12)
  })

  test('are each less sure than the whole, and more so with noise', () => {
    const result = read(usual(glow))
    const { short, long, apart } = halves(result)
    for (const half of [short, long]) {
      expect(half.standardUncertaintyK).toBeGreaterThan(result.standardUncertaintyK)
      expect(Math.abs(half.temperatureK - KELVIN)).toBeLessThan(4 * half.standardUncertaintyK)
    }
    // Nothing is wrong with it.
    expect(apart).toBeLessThan(3)
  })

  test('disagree where two bodies glow, the cooler one in the long waves', () => {
    const two = (nm: number) => planck(1000)(nm) + 0.1 * planck(1500)(nm)
    const { short, long, apart } = halves(read({ recording: perfect(two), response }))
    expect(short.temperatureK).toBeGreaterThan(long.temperatureK)
    expect(apart).toBeGreaterThan(2)
  })

  test('are as far apart as their own uncertainties say: a lamp that errs moves both alike', () => {
    const lamp = (standardUncertaintyK: number) =>
      responseOf(perfect(planck(2800)), {
        emitter: 'black body',
        colourTemperatureK: 2800,
        standardUncertaintyK,
      })
    const of = (standardUncertaintyK: number) =>
      halves(
        read({
          recording: perfect((nm) => planck(1390)(nm) * (nm < 560 ? 1.02 : 1)),
          response: lamp(standardUncertaintyK),
        }),
      )
    const [sure, unsure] = [of(0), of(60)]
    expect(unsure.long.standardUncertaintyK).toBeGreaterThan(1.2 * sure.long.standardUncertaintyK)
    expectClose(unsure.apart, sure.apart, 0.1)
  })

  test('are none of a spectrum too short for two', () => {
    const short = { ...INSTRUMENTS[0]!, fromNm: 600, toNm: 634 }
    const result = read({ recording: perfect(glow, short), response: perfectResponse(short) })
    expect(result.halves).toBeNull()
    const enough = { ...INSTRUMENTS[0]!, fromNm: 500, toNm: 700 }
    expect(
      read({ recording: perfect(glow, enough), response: perfectResponse(enough) }).halves,
    ).not.toBeNull()
  })
})
