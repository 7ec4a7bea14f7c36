import { expect, test } from 'vitest'
import { SharedEffects } from '../../src/estimate/shared-parts.ts'

test('a shared cause is named from a twentieth of the whole uncertainty on, with its sign', () => {
  const parts = (effect: number) => {
    const effects = new SharedEffects()
    effects.add({ term: 'camera', cause: 'phone', effect }, 1)
    const budget = [
      { term: 'camera', standardUncertaintyK: Math.abs(effect) },
      { term: 'surface', standardUncertaintyK: Math.sqrt(100 - effect ** 2) },
    ] as const
    return effects.within(budget, new Map([['camera', effect ** 2]]))[0]!.parts
  }
  expect([0.48, -0.48].map(parts)).toEqual([undefined, undefined])
  expect(parts(0.52)).toEqual([{ cause: 'phone', effectK: 0.52 }])
  expect(parts(-0.52)).toEqual([{ cause: 'phone', effectK: -0.52 }])
})
