import { expect, test } from 'vitest'
import type { GlowInput } from '../../src/estimate/types.ts'
import { reading, reference, STEEL, seen, temperature } from './inputs.ts'

test('a next step is advised where it takes a tenth off the uncertainty at least', () => {
  const known = { ...STEEL, standardUncertainty: 0 }
  const references = [1073, 1123, 1173, 1223, 1273].map((t) =>
    reference(t, 0.5, seen(t), { surface: known }),
  )
  /** Beside five known heats hardly anything is open but another piece's own slope. */
  const at = (standardUncertainty: number) => {
    const surface = { ...STEEL, piece: 'another', standardUncertainty }
    return temperature(reading(seen(1173), { references, surface }))
  }
  let [none, some] = [0.001, 0.01]
  for (let step = 0; step < 5; step++) {
    const middle = (none + some) / 2
    if (at(middle).advice.code === 'nothing') none = middle
    else some = middle
  }
  expect(at(none).advice.code).toBe('nothing')
  const { advice, standardUncertaintyK } = at(some)
  expect(advice.code).toBe('surface')
  expect(advice.predictedStandardUncertaintyK / standardUncertaintyK).toBeLessThan(0.9)
  expect(advice.predictedStandardUncertaintyK / standardUncertaintyK).toBeGreaterThan(0.87)
})

test('where an unknown tone curve is most of what is open, a sweep or a raw photo comes first; with light as it is, never', () => {
  const known = { ...STEEL, standardUncertainty: 0 }
  const references = [1073, 1273].map((t) => reference(t, 0.5, seen(t), { surface: known }))
  const at = (linearity: GlowInput['linearity']) =>
    temperature(reading(seen(1173), { references, surface: known, linearity }))
  const single = at({
    kind: 'single',
    curveId: 'of a photo',
    storedLevels: [0.75, 0.2, 0.02],
    space: 'srgb',
  })
  expect(single.budget[0]?.term).toBe('tone curve')
  expect(single.advice.code).toBe('sweep or raw')
  expect(single.advice.predictedStandardUncertaintyK).toBeLessThan(single.standardUncertaintyK / 2)
  expect(at({ kind: 'linear' }).advice.code).not.toBe('sweep or raw')
})
