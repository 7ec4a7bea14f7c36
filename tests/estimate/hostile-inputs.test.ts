import { expect, test } from 'vitest'
import { estimateGlow } from '../../src/estimate/estimate-glow.ts'
import type { Matrix3 } from '../../src/numerics/matrix3.ts'
import { storedGlow } from '../../src/session/log/stored-glow.ts'
import { numbersOf, SAMPLE_READING, withLeaf } from '../screens/stored-samples.ts'

/** What a file may say of a reading's inputs: finite numbers or a refusal, never an exception. */

const input = storedGlow(SAMPLE_READING.inputs)!

const notFinite = (value: unknown): string[] =>
  numbersOf(value)
    .filter(
      (path) => !Number.isFinite(path.reduce<unknown>((at, name) => at?.[name as never], value)),
    )
    .map((path) => path.join('.'))

test('a surface or window bluer than any heat gives no figure', () => {
  for (const lnGreenOverRed of [-5, 5]) {
    const surface = { ...input.surface, lnGreenOverRed }
    expect(notFinite(estimateGlow({ ...input, surface }))).toEqual([])
    const window = { id: 'table', lnGreenOverRed, standardUncertainty: 0.01 }
    expect(notFinite(estimateGlow({ ...input, window }))).toEqual([])
  }
})

test('scatter that nothing could have is no input', () => {
  const covariance: Matrix3 = [
    [1e-6, 1e-3, 0],
    [1e-3, 1e-8, 0],
    [0, 0, 1e-8],
  ]
  const glow = { ...input.glow, covariance }
  expect(estimateGlow({ ...input, glow })).toMatchObject({ kind: 'no number', reason: 'bad input' })
  const references = input.references.map((one) => ({ ...one, glow }))
  expect(estimateGlow({ ...input, references })).toMatchObject({ reason: 'bad input' })
  // And a file that holds it is refused.
  expect(storedGlow(withLeaf(SAMPLE_READING.inputs, ['glow'], glow))).toBeNull()
})
