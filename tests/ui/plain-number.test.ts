import { readdirSync, readFileSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import { expect, test } from 'vitest'
import { plainNumber } from '../../src/ui/plain-number.ts'

test('numbers are written as people write them, to the place that their uncertainty leaves', () => {
  expect(plainNumber(187.3, 12)).toBe('187')
  expect(plainNumber(187.3, 120)).toBe('190')
  expect(plainNumber(187.3, 38)).toBe('190')
  expect(plainNumber(190, 7.6)).toBe('190')
  expect(plainNumber(3.25, 0.17)).toBe('3.25')
  expect(plainNumber(187.3)).toBe('190')
  expect(plainNumber(368)).toBe('370')
  expect(plainNumber(1873)).toBe('1900')
  expect(plainNumber(0.0523)).toBe('0.052')
  expect(plainNumber(9.96)).toBe('10.0')
  expect(plainNumber(-12.4)).toBe('−12')
  expect(plainNumber(0)).toBe('0')
  expect(plainNumber(Number.NaN)).toBe('–')
})

test('no number of any size is written with a power of ten, nor refused', () => {
  const sizes = [5e-324, 1e-300, 1e-12, 1e-7, 0.04, 1, 150, 1e6, 9.99e19, 1e21, 1e308]
  for (const value of sizes)
    for (const uncertainty of [0, ...sizes])
      expect(plainNumber(-value, uncertainty), `${value} ± ${uncertainty}`).toMatch(
        /^(−?[\d.]+|–)$/,
      )
})

test('no screen writes digits that may come with a power of ten', () => {
  const root = fileURLToPath(new URL('../../src/', import.meta.url))
  const wrong = readdirSync(root, { recursive: true, encoding: 'utf8' })
    .filter((file) => /^(ui|screens)\/.*\.tsx?$/.test(file))
    .filter((file) => file !== 'ui/plots/ticks.ts')
    .filter((file) =>
      // A number made of them again is written without one up to 1e21.
      /(?<!Number\([^()]*(\([^()]*\))?[^()]*)\.to(Precision|Exponential)\(/.test(
        readFileSync(root + file, 'utf8'),
      ),
    )
  expect(wrong).toEqual([])
})
