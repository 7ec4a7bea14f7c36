import { expect, test } from 'vitest'
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
