import { test } from 'vitest'
import { erfc } from '../../src/numerics/error-function.ts'
import { expectClose } from '../close-to.ts'

test('erfc follows Abramowitz & Stegun table 7.1', () => {
  // erf(x) to ten digits; the fit promises 1.2e-7 of erfc.
  for (const [x, erf] of [
    [0.1, 0.112462916],
    [0.5, 0.5204998778],
    [1, 0.8427007929],
    [1.5, 0.9661051465],
    [2, 0.995322265],
  ] as const)
    expectClose(erfc(x), 1 - erf, 1.3e-7)
  expectClose(erfc(-1), 1.8427007929, 1.3e-7)
})
