import { describe, expect, it } from 'vitest'
import { pedestalPrior } from '../../../src/estimate/spectrum/pedestal.ts'
import { normal, seededRandom } from '../../accuracy/spectrum-simulation.ts'
import { expectClose } from '../../close-to.ts'

const STRAY = 0.002
const PEAK = 1000
const quiet = { floor: 1e-12, perSignal: 0 }

/** A spectrum that falls to its pedestal at one end. */
const lit = (pedestal: number, sigma = 0, seed = 1) => {
  const random = seededRandom(seed)
  return Array.from(
    { length: 1000 },
    (_, i) => PEAK * Math.exp(-((i / 250) ** 2)) + pedestal + sigma * normal(random),
  )
}

describe('what an even pedestal may be', () => {
  it('is a half-normal of the stated root mean square where the signal leaves it open', () => {
    const { mean, standardUncertainty } = pedestalPrior(
      lit(20 * STRAY * PEAK),
      PEAK,
      STRAY,
      true,
      quiet,
    )
    // Moments of |normal|: sqrt(2 / pi) and sqrt(1 - 2 / pi).
    expectClose(mean, STRAY * Math.sqrt(2 / Math.PI), 1e-3)
    expectClose(standardUncertainty, STRAY * Math.sqrt(1 - 2 / Math.PI), 1e-3)
  })

  it('is no more than the least signal', () => {
    const { mean, standardUncertainty } = pedestalPrior(lit(0), PEAK, STRAY, true, quiet)
    expect(mean).toBeLessThan(0.02 * STRAY)
    expect(standardUncertainty).toBeLessThanOrEqual(0.05 * STRAY)
  })

  it('is not ruled out by noise: the least of many noisy means is no proof of darkness', () => {
    const sigma = 8
    for (const seed of [1, 2, 3, 4, 5]) {
      const there = 1.5 * STRAY * PEAK
      const noise = { floor: sigma ** 2, perSignal: 0 }
      const prior = pedestalPrior(lit(there, sigma, seed), PEAK, STRAY, true, noise)
      expect(prior.mean + 3 * prior.standardUncertainty).toBeGreaterThan(there / PEAK)
    }
  })
})
