import { expect, test } from 'vitest'
import { shutterWords } from '../../../src/ui/words/shutter.ts'

test('shutter times read as cameras write them (ISO 516, from memory; long ones in seconds)', () => {
  expect([1 / 4000, 1 / 60, 0.25, 0.3, 0.4, 1.3, 2, 30, 125].map(shutterWords)).toEqual([
    '1/4000 s',
    '1/60 s',
    '1/4 s',
    '0.3 s',
    '0.4 s',
    '1.3 s',
    '2 s',
    '30 s',
    '125 s',
  ])
})
