import { describe, expect, test } from 'vitest'
import type { Reading, Result } from '../../../src/log/schema/types.ts'
import { meanOfReadings } from '../../../src/session/log/selection-mean.ts'

const at = (temperatureK: number, u: number): Result => ({
  kind: 'temperature',
  temperatureK,
  standardUncertaintyK: u,
  expandedUncertaintyK: 2 * u,
  interval95K: [temperatureK - 2 * u, temperatureK + 2 * u],
  budget: [{ term: 'pixel noise', contributionK: u, sharedBy: null }],
  methodVersion: '1',
})
const reading = (result: Result, part: Partial<Reading> = {}) =>
  ({ result, recomputations: [], simulated: false, demo: false, ...part }) as unknown as Reading

describe('the mean of a selection', () => {
  test('weighs by 1/u²: 1100 ± 10 and 1110 ± 20 give 1102 ± 8.9', () => {
    // GUM (JCGM 100:2008) 5.1.2 with weights 0.8 and 0.2; 10·20/sqrt(10² + 20²) = 8.944.
    const { statistics } = meanOfReadings([reading(at(1100, 10)), reading(at(1110, 20))], 2)
    expect(statistics?.weightedMeanK).toBeCloseTo(1102, 6)
    expect(statistics?.standardUncertaintyK).toBeCloseTo(8.944, 3)
  })

  test('counts the latest result of a reading that was computed again', () => {
    const again = { at: '', reason: '', result: at(1200, 10), inputs: null, details: null }
    const { statistics } = meanOfReadings([reading(at(1100, 10), { recomputations: [again] })], 1)
    expect(statistics?.weightedMeanK).toBe(1200)
  })

  test('never mixes made-up readings with measured ones', () => {
    const simulated = reading(at(1500, 1), { simulated: true })
    const demo = reading(at(1500, 1), { demo: true })
    const mixed = meanOfReadings([reading(at(1100, 10)), simulated, demo], 3)
    expect(mixed.statistics?.count).toBe(1)
    expect(mixed.leftOut.madeUp).toBe(2)
    expect(meanOfReadings([simulated, demo], 2).statistics?.count).toBe(2)
  })

  test('says what it leaves out', () => {
    const bound = reading({ kind: 'upper bound', temperatureK: 900, methodVersion: '1' })
    const none = reading({ kind: 'none', reason: 'clipped', methodVersion: '1' })
    expect(meanOfReadings([bound, none], 3)).toEqual({
      statistics: null,
      leftOut: { bounds: 1, withoutFigure: 1, madeUp: 0, damaged: 1 },
    })
  })
})
