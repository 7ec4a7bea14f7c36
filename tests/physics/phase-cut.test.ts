import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { meterStandardUncertainty } from '../../src/physics/meters.ts'
import { phaseCutAddition, phaseCutRms } from '../../src/physics/phase-cut.ts'
import { expectClose, expectPrinted } from '../close-to.ts'

describe('phase-cut volts', () => {
  it('at half the wave are 0.7071 of the supply where a simple meter shows 0.5 (analytic)', () => {
    expectPrinted(phaseCutRms(115, 230) / 230, '0.7071')
  })

  it('agree with the integrals of a cut sine done numerically', () => {
    for (const angle of [0.3, 1, 2, 2.8]) {
      let mean = 0
      let square = 0
      const n = 200000
      for (let i = 0; i < n; i++) {
        const phase = angle + ((Math.PI - angle) * (i + 0.5)) / n
        mean += (Math.sin(phase) * (Math.PI - angle)) / n
        square += (Math.sin(phase) ** 2 * (Math.PI - angle)) / n
      }
      // Scaled so that a whole sine shows its effective value, 1.
      expectClose(phaseCutRms(mean / 2, 1), Math.sqrt((square * 2) / Math.PI), 1e-8)
    }
  })

  it('never fall below what is shown, nor exceed the supply', () => {
    fc.assert(
      fc.property(fc.double({ min: 1, max: 229, noNaN: true }), (shown) => {
        const rms = phaseCutRms(shown, 230)
        expect(rms).toBeGreaterThanOrEqual(shown * (1 - 1e-12))
        expect(rms).toBeLessThanOrEqual(230 * (1 + 1e-12))
      }),
    )
    expect(phaseCutRms(240, 230)).toBe(240)
  })

  it('add nothing with a true-rms meter, and cancel in V/I with meters of one kind', () => {
    expect(phaseCutAddition(115, { meter: 'true-rms', supplyVolts: 230 })).toEqual({
      value: 0,
      standardUncertainty: 0,
    })
    expect(phaseCutAddition(115, { meter: 'average-responding', supplyVolts: 230 }, true)).toEqual({
      value: 0,
      standardUncertainty: 0,
    })
    const unknown = phaseCutAddition(115, { meter: 'unknown', supplyVolts: 230 })
    expectPrinted(unknown.value, '23.82')
    expectPrinted(unknown.standardUncertainty, '13.75')
  })
})

describe('meter accuracy', () => {
  it('+-(1.2 % + 5 digits of 0.1 V) of 230.0 V is +-3.26 V, standard 1.88 V (GUM 4.3.7)', () => {
    const reading = { value: 230, percentOfReading: 1.2, digits: 5, resolution: 0.1 }
    expectPrinted(meterStandardUncertainty(reading), '1.88')
  })
})
