import { describe, expect, it } from 'vitest'
import { consensus, estimateCovariance } from '../../../src/estimate/consensus.ts'
import type { BudgetEntry, Reading } from '../../../src/log/schema/types.ts'
import { referenceTerms } from '../../../src/session/check/reference-terms.ts'
import { singleEstimate } from '../../../src/session/check/single-estimate.ts'

/** Made up: a camera reading whose error is mostly the camera's. */
const reading = (id: string, method: string, temperatureK: number, budget: BudgetEntry[]) =>
  ({
    id,
    method,
    recomputations: [],
    result: {
      kind: 'temperature',
      temperatureK,
      standardUncertaintyK: Math.hypot(...budget.map(({ contributionK }) => contributionK)),
      budget,
    },
  }) as unknown as Reading

const reference = reading('a', 'photo', 1150, [
  { term: 'camera', contributionK: 40, sharedBy: 'made-up camera' },
  { term: 'pixel noise', contributionK: 9, sharedBy: null },
])

describe('a result that rests on a reading', () => {
  it('carries its terms, scaled to what the reference moves here', () => {
    const terms = referenceTerms(reference, 20.5)
    expect(Math.hypot(...terms.map(({ contributionK }) => contributionK))).toBeCloseTo(20.5, 9)
    expect(terms.map(({ sharedBy }) => sharedBy)).toEqual(['made-up camera', 'a'])
  })

  it('errs together with that reading when both are combined: nothing is gained twice', () => {
    const all = referenceTerms(reference, 41)
    const brightness = reading('b', 'brightness', 1150, all)
    const estimates = [reference, brightness].flatMap((one) => singleEstimate(one) ?? [])
    const covariance = estimateCovariance(estimates)
    // The same causes with the same effects: fully correlated, by the definition of covariance.
    expect(covariance[0]?.[1]).toBeCloseTo(41 ** 2, 6)
    const together = consensus(estimates)
    expect(together.ok && together.value?.standardUncertaintyK).toBeCloseTo(41, 9)
  })

  it('of a reading without a budget shares all of its error', () => {
    const plain = reading('c', 'by hand', 1160, [])
    const given = { ...plain, result: { ...plain.result, standardUncertaintyK: 4 } } as Reading
    const brightness = reading('d', 'brightness', 1160, referenceTerms(given, 4))
    const estimates = [given, brightness].flatMap((one) => singleEstimate(one) ?? [])
    expect(estimateCovariance(estimates)[0]?.[1]).toBeCloseTo(16, 9)
  })
})
