import { expect, test } from 'vitest'
import { signedPlusMinus } from '../../../src/ui/words/heat-map.ts'

test('a difference that rounds to nothing has no sign', () => {
  expect(signedPlusMinus(-0.3, 4)).toBe('0 ± 8 °C')
  expect(signedPlusMinus(0.3, 4)).toBe('0 ± 8 °C')
  expect(signedPlusMinus(0, 4)).toBe('0 ± 8 °C')
  expect(signedPlusMinus(-0.6, 4)).toBe('−1 ± 8 °C')
  expect(signedPlusMinus(24, 4)).toBe('+24 ± 8 °C')
})
