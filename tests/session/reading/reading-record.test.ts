import { describe, expect, test } from 'vitest'
import type { GlowEstimate, GlowInput } from '../../../src/estimate/types.ts'
import { readingRecord, resultOf } from '../../../src/session/reading/reading-record.ts'
import { NO_FACTS } from '../../../src/sources/files/photo-facts.ts'
import { reading, seen, temperature } from '../../estimate/inputs.ts'

const input = reading(seen(1173))
const estimate = temperature(input)
const photo = {
  width: 160,
  height: 120,
  space: 'display-p3',
  channels: 'display-p3',
  facts: NO_FACTS,
}

const record = (change: object = {}) =>
  readingRecord({
    estimate,
    input,
    measurement: { region: 'here' },
    photo,
    simulatedTruthK: null,
    cover: 'none',
    materialId: 'steel-oxidised',
    labels: { object: ' bar ', notes: ' as forged ' },
    takenAt: { iso: '2026-05-04T10:00:00.000Z', zone: 'UTC' },
    ...change,
  } as never)

describe('an estimate as the log keeps it', () => {
  test('is a temperature with its range, a bound, or why there is none', () => {
    expect(resultOf(estimate, input)).toMatchObject({
      kind: 'temperature',
      temperatureK: estimate.temperatureK,
      standardUncertaintyK: estimate.standardUncertaintyK,
      expandedUncertaintyK: estimate.expandedUncertaintyK,
      interval95K: estimate.interval95K,
    })
    const below = { kind: 'below range', upperBoundK: 880, eye: null, findings: [] }
    expect(resultOf(below as unknown as GlowEstimate, input)).toMatchObject({
      kind: 'upper bound',
      temperatureK: 880,
    })
    const none: GlowEstimate = { kind: 'no number', reason: 'clipped', eye: null, findings: [] }
    expect(resultOf(none, null)).toMatchObject({ kind: 'none', reason: 'clipped' })
  })

  test('has a budget that adds up to its ±, with the causes that other readings share', () => {
    const budgetOf = (of: GlowInput | null) => {
      const result = resultOf(estimate, of)
      if (result.kind !== 'temperature') throw new Error(result.kind)
      return result.budget
    }
    for (const of of [input, null]) {
      const squares = budgetOf(of).reduce((sum, { contributionK }) => sum + contributionK ** 2, 0)
      expect(Math.sqrt(squares) / estimate.standardUncertaintyK).toBeCloseTo(1, 3)
    }
    // Of what it was worked out from nothing is known: nothing can be shared.
    expect(budgetOf(null).map(({ term, sharedBy }) => [term, sharedBy])).toEqual(
      estimate.budget.map(({ term }) => [term, null]),
    )
    const causeOf = (term: string) => budgetOf(input).find((one) => one.term === term)?.sharedBy
    expect(causeOf('camera')).toContain('phone')
    expect(causeOf('pixel noise')).toBeNull()
    // No crumb is kept beside the parts of a term.
    for (const { contributionK } of budgetOf(input))
      expect(Math.abs(contributionK)).toBeGreaterThan(1e-5)
  })
})

describe('a reading as the log keeps it', () => {
  test('is by the way that its photo came', () => {
    const swept = {
      kind: 'sweep',
      curveId: 'a',
      standardUncertaintyGreen: 0,
      standardUncertaintyBlue: 0,
    }
    expect(record().method).toBe('photo')
    expect(record({ input: { ...input, linearity: swept } }).method).toBe('sweep')
    expect(record({ photo: { ...photo, channels: 'camera' } }).method).toBe('raw')
    expect(record({ input: null }).method).toBe('photo')
    expect(
      record({ simulatedTruthK: 1173, photo: { ...photo, channels: 'camera' } }),
    ).toMatchObject({
      method: 'practice',
      simulated: true,
      details: { simulatedTruthK: 1173 },
    })
  })

  test('says what was said of it, and holds what it was computed from', () => {
    expect(record()).toMatchObject({
      simulated: false,
      object: 'bar',
      notes: 'as forged',
      material: 'steel-oxidised',
      cover: 'none',
      inputs: input,
      details: {
        measurement: { region: 'here' },
        photo: { width: 160, height: 120, space: 'display-p3', facts: NO_FACTS },
        estimate,
        simulatedTruthK: null,
      },
    })
    expect(record().details).not.toHaveProperty('map')
    expect(record({ map: { version: 1 } }).details).toMatchObject({ map: { version: 1 } })
    expect(record({ input: null }).inputs).toBeNull()
  })

  test('has the colour that an eye sees, where it sees one', () => {
    const { x, y, u, v, cctK, duv } = estimate.eye!
    expect(record().chromaticity).toEqual({ x, y, u, v, cctK, duv })
    const [red, , blue] = record().swatch!
    expect(red).toBeGreaterThan(blue)
    const unseen = record({ estimate: { ...estimate, eye: null } })
    expect([unseen.swatch, unseen.chromaticity]).toEqual([null, null])
  })
})
