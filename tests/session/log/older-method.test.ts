import { expect, test } from 'vitest'
import { METHOD_VERSION } from '../../../src/estimate/method-version.ts'
import { isByOlderMethod } from '../../../src/session/log/older-method.ts'

const photo = { method: 'photo', methodVersion: 'glow 1', damaged: false, demo: false } as const

test('figures of an earlier method are told from those of this one, and from made-up ones', () => {
  expect(isByOlderMethod(photo)).toBe(true)
  expect(isByOlderMethod({ ...photo, methodVersion: METHOD_VERSION })).toBe(false)
  // Nothing computes these again.
  expect(isByOlderMethod({ ...photo, demo: true })).toBe(false)
  expect(isByOlderMethod({ ...photo, damaged: true })).toBe(false)
  expect(isByOlderMethod({ ...photo, method: 'by eye' })).toBe(false)
})
