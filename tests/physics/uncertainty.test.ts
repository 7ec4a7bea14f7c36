import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import {
  propagateUncertainty,
  rectangularUncertainty,
  rootSumSquare,
} from '../../src/physics/uncertainty.ts'
import { expectClose, expectPrinted } from '../close-to.ts'

describe('propagation of uncertainty', () => {
  it('gives 32 nm for the end gauge of GUM H.1 (JCGM 100:2008, table H.1, from memory)', () => {
    // l = lS + d - lS (dAlpha theta + alphaS dTheta), nm and K.
    const { value, standardUncertainty, contributions } = propagateUncertainty(
      ([ls, d, dAlpha, theta, alpha, dTheta]) =>
        ls! + d! - ls! * (dAlpha! * theta! + alpha! * dTheta!),
      [
        { code: 'standard', value: 50000623, standardUncertainty: 25 },
        { code: 'difference', value: 215, standardUncertainty: 9.7 },
        { code: 'difference of expansion', value: 0, standardUncertainty: 0.58e-6 },
        { code: 'deviation of temperature', value: -0.1, standardUncertainty: 0.41 },
        { code: 'expansion', value: 11.5e-6, standardUncertainty: 1.2e-6 },
        { code: 'difference of temperature', value: 0, standardUncertainty: 0.029 },
      ],
    )
    expectPrinted(value, '50000838')
    expectPrinted(standardUncertainty, '32')
    const of = (code: string) => contributions.find((c) => c.code === code)!.standardUncertainty
    expectPrinted(of('difference of expansion'), '2.9')
    // GUM prints 16.6 after rounding its factors; u is 50000623 * 11.5e-6 * 0.029 = 16.68.
    expectPrinted(of('difference of temperature'), '17')
    expect(of('expansion')).toBe(0)
    expect(contributions[0]!.code).toBe('standard')
  })

  it('takes a resolution of 1 as 0.29 (GUM F.2.2.1)', () => {
    expectPrinted(rectangularUncertainty(0.5), '0.29')
    expect(rootSumSquare([3, 4])).toBe(5)
  })

  it('is exact for a linear model whatever the inputs', () => {
    const number = fc.double({ min: -100, max: 100, noNaN: true })
    const u = fc.double({ min: 0.001, max: 10, noNaN: true })
    fc.assert(
      fc.property(number, number, u, u, (a, b, ua, ub) => {
        const { standardUncertainty } = propagateUncertainty(
          ([x, y]) => 3 * x! - 2 * y!,
          [
            { code: 'a', value: a, standardUncertainty: ua },
            { code: 'b', value: b, standardUncertainty: ub },
          ],
        )
        expectClose(standardUncertainty, Math.hypot(3 * ua, 2 * ub), 1e-9)
      }),
    )
  })

  it('keeps an input within its limits while it moves it', () => {
    const seen: number[] = []
    propagateUncertainty(
      ([x]) => {
        seen.push(x!)
        return x!
      },
      [{ code: 'emissivity', value: 0.95, standardUncertainty: 0.1, least: 0, most: 1 }],
    )
    expect(Math.max(...seen)).toBe(1)
  })
})
