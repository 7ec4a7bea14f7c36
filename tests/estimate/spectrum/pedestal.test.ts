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
  it('is a split normal where the signal leaves it open: stray light adds, the dark drifts', () => {
    const { mean, standardUncertainty } = pedestalPrior(
      lit(20 * STRAY * PEAK),
      PEAK,
      STRAY,
      true,
      quiet,
    )
    // Moments of a split normal (John 1982, Commun. Stat. A 11, 879); a tenth of the stray light below.
    const below = 0.1 * STRAY
    const above = Math.hypot(STRAY, below)
    expectClose(mean, Math.sqrt(2 / Math.PI) * (above - below), 1e-3)
    const variance = (1 - 2 / Math.PI) * (above - below) ** 2 + above * below
    expectClose(standardUncertainty, Math.sqrt(variance), 1e-3)
  })

  it('is no more than the least signal', () => {
    const { mean, standardUncertainty } = pedestalPrior(lit(0), PEAK, STRAY, true, quiet)
    expect(mean).toBeLessThan(0.02 * STRAY)
    // What the dark drifts: a tenth of the stray light, on one side of nothing.
    expect(standardUncertainty).toBeLessThanOrEqual(0.1 * STRAY)
  })

  it('goes below nothing where the least signal does: the dark was too bright', () => {
    const { mean } = pedestalPrior(lit(-2 * STRAY * PEAK), PEAK, STRAY, true, quiet)
    expectClose(mean, -2 * STRAY, 0.02)
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
