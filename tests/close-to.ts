import { expect } from 'vitest'

/**
 * Relative comparison: radiance spans hundreds of decades, so an absolute tolerance says little.
 *
 * @param relative largest allowed |actual - expected| / |expected|
 */
export function expectClose(actual: number, expected: number, relative: number, label = ''): void {
  const difference = Math.abs(actual - expected)
  const allowed = relative * Math.abs(expected)
  expect(
    difference <= allowed,
    `${label} actual ${actual}, expected ${expected}, difference ${difference}, allowed ${allowed}`,
  ).toBe(true)
}

/** Agreement with a printed value: within half of its last printed digit. */
export function expectPrinted(actual: number, printed: string, label = ''): void {
  const [digits = '', exponent = '0'] = printed.toLowerCase().split('e')
  const decimals = digits.split('.')[1]?.length ?? 0
  const half = 0.5 * 10 ** (Number(exponent) - decimals)
  const expected = Number(printed)
  expect(
    Math.abs(actual - expected) <= half * (1 + 1e-9),
    `${label} actual ${actual}, printed ${printed}, allowed +-${half}`,
  ).toBe(true)
}
