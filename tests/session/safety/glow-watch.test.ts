import { expect, test } from 'vitest'
import { dismissGlow, glowWatch, noteGlow } from '../../../src/session/safety/glow-watch.ts'

const at = (seconds: number) => new Date(Date.UTC(2026, 2, 1, 10, 0, seconds))

test('a glow is told since when, and its end stays told until somebody says that it is marked', () => {
  dismissGlow()
  noteGlow(false, null, at(0))
  // Nothing glowed: there is no black heat to warn of.
  expect(glowWatch.value).toBeNull()
  noteGlow(true, 1200, at(1))
  noteGlow(true, null, at(5))
  expect(glowWatch.value).toEqual({ kind: 'glowing', since: at(1), temperatureK: 1200 })
  // A camera that cannot say changes nothing.
  noteGlow(null, null, at(6))
  noteGlow(false, null, at(7))
  noteGlow(false, null, at(9))
  expect(glowWatch.value).toEqual({ kind: 'glow gone', since: at(7), temperatureK: 1200 })
  dismissGlow()
  expect(glowWatch.value).toBeNull()
})
