import { expect, test } from 'vitest'
import { transmissionUnit } from '../../../src/light/spectrum-import/transmission-unit.ts'

test('the heading tells how transmission is written, else the size of the values', () => {
  expect(transmissionUnit([0.4, 0.9], 'T (%)')).toBe('percent')
  expect(transmissionUnit([0.4, 0.9], 'T')).toBe('share')
  expect(transmissionUnit([0.4, 1.02], null)).toBe('share')
  expect(transmissionUnit([0.4, 91], null)).toBe('percent')
  // Noise and a wrong baseline lift a clear pane over 1; half as much again is no share any more.
  expect(transmissionUnit([0.4, 1.45], null)).toBe('share')
  expect(transmissionUnit([0.4, 1.55], null)).toBe('percent')
})
