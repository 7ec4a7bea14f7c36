import { describe, expect, test } from 'vitest'
import { bendOf } from '../../src/estimate/level-bend.ts'
import { levelCorrection } from '../../src/estimate/tone-curve-prior.ts'
import type { GlowInput, LevelConditions } from '../../src/estimate/types.ts'
import { colour } from './inputs.ts'

const LEVEL: LevelConditions = { exposureSeconds: 0.01, iso: 100, fNumber: 2, fieldRadius: 0 }
const swept = (red: number, green: number, change: object = {}) =>
  ({
    glow: { ...colour(0.4, 0.1), mean: [red, green, 0.01] },
    linearity: {
      kind: 'sweep',
      curveId: 'made up',
      standardUncertaintyGreen: 0.02,
      standardUncertaintyBlue: 0.05,
      ...change,
    },
  }) as Pick<GlowInput, 'glow' | 'linearity'>

describe('what the way to linear light does to a level', () => {
  test('nothing where light is stored as it is', () => {
    for (const kind of ['linear', 'raw'] as const)
      expect(bendOf({ glow: colour(0.4, 0.1), linearity: { kind } as never }, LEVEL)).toEqual({
        correction: 0,
        variance: 0,
        shared: [],
      })
  })

  test('a swept curve fixes levels up to a factor, and bends them as it bends green over red', () => {
    const bend = bendOf(swept(0.4, 0.1, { ownUncertainty: 0.03 }), LEVEL)!
    expect(bend.correction).toBe(0)
    expect(bend.variance).toBeCloseTo(0.03 ** 2, 15)
    const of = (key: string) => bend.shared.find((one) => one.key === key)!.standardUncertainty
    // ln(R/G) = ln 4 is wrong by 0.02: ln(0.4) by as much a share.
    expect(Math.abs(of('bend made up'))).toBeCloseTo((0.02 * Math.log(1 / 0.4)) / Math.log(4), 12)
    expect(of('scale made up')).toBeGreaterThan(10)
    expect(bendOf(swept(0.4, 0.1), LEVEL)!.variance).toBe(0)
  })

  test('where green is dark or as bright as red, a step of e bends it as much as green', () => {
    for (const green of [0, 0.4]) {
      const { shared } = bendOf(swept(0.4, green), LEVEL)!
      expect(Math.abs(shared[1]!.standardUncertainty)).toBeCloseTo(0.02 * Math.log(1 / 0.4), 12)
    }
  })

  test('a single photo has a level only in a stream of its like, and where red is stored at all', () => {
    const single = (red: number) =>
      ({
        glow: colour(0.4, 0.1),
        linearity: { kind: 'single', curveId: 'made up', storedLevels: [red, 0.3, 0.1] },
      }) as unknown as Pick<GlowInput, 'glow' | 'linearity'>
    expect(bendOf(single(0.6), LEVEL)).toBeNull()
    expect(bendOf(single(0), { ...LEVEL, stream: true })).toBeNull()
    const { mean, contrast, shoulder } = levelCorrection(0.6)
    expect(bendOf(single(0.6), { ...LEVEL, stream: true })).toEqual({
      correction: mean,
      variance: 0,
      shared: [
        expect.objectContaining({ key: 'scale made up' }),
        { key: 'contrast made up', standardUncertainty: contrast },
        { key: 'shoulder made up', standardUncertainty: shoulder },
      ],
    })
  })
})
