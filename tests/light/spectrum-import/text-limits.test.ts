import { describe, expect, test } from 'vitest'
import { importSpectra } from '../../../src/light/spectrum-import/import-spectra.ts'

/** Rows of a spectrum from 400 nm on, one a nanometre. */
const rows = (count: number, of: (i: number) => string = (i) => `${400 + i},${i % 7}`) =>
  Array.from({ length: count }, (_, i) => of(i)).join('\n')
const refusal = (text: string) => {
  const result = importSpectra(text)
  return result.ok ? null : result.code
}
const found = (text: string) => {
  const result = importSpectra(text)
  return result.ok ? result.findings.map(({ code }) => code) : [result.code]
}

describe('a text with spectra', () => {
  test('has sixteen million characters at most', () => {
    expect(refusal(' '.repeat(15_500_000))).toBe('empty')
    expect(refusal(' '.repeat(16_500_000))).toBe('too large')
  })

  test('has 256 columns at most, the wavelengths among them', () => {
    const columns = (count: number) =>
      refusal(rows(10, (i) => [400 + i, ...new Array(count - 1).fill(i % 7)].join(';')))
    expect([256, 257].map(columns)).toEqual([null, 'too large'])
  })

  test('has eight samples at least', () => {
    expect(refusal(rows(8))).toBeNull()
    expect(refusal(rows(7))).not.toBeNull()
  })

  test('has one row in twenty at most whose wavelength is none', () => {
    const outside = (count: number) =>
      refusal(rows(200, (i) => `${i % 19 === 0 && i / 19 < count ? 9000 + i : 400 + i},${i % 7}`))
    expect(outside(10)).toBeNull()
    expect(outside(11)).toBe('wavelength unit unknown')
  })

  test('has a gap where a step is five times the usual one', () => {
    const gap = (steps: number) =>
      found(rows(40, (i) => `${400 + i + (i < 20 ? 0 : steps - 1)},${i % 7}`))
    expect(gap(4.9)).toEqual([])
    expect(gap(5.1)).toEqual(['gaps'])
  })

  test('may lack values, which is said where it is so', () => {
    expect(found(rows(40, (i) => `${400 + i};${i === 7 ? '' : i % 7};${i % 5}`))).toEqual([
      'cells without value',
    ])
    expect(found(rows(40, (i) => `${400 + i};${i % 7};${i % 5}`))).toEqual([])
  })

  test('was written with a comma in its numbers and between them where three in ten repeat their first', () => {
    const repeated = (count: number) =>
      refusal(rows(200, (i) => `${i < count ? 400 : 400 + i},${i % 10},0,${i % 7}`))
    // The first of them repeats none.
    expect(repeated(60)).toBeNull()
    expect(repeated(62)).toBe('comma twice')
  })

  test('stands in rows where sixteen wavelengths stand side by side, and four values in five below', () => {
    const inRows = (wavelengths: number, values = wavelengths) => {
      const of = (count: number, value: (i: number) => number) =>
        Array.from({ length: wavelengths }, (_, i) => (i < count ? value(i) : '')).join('\t')
      const text = [
        `name\t${of(wavelengths, (i) => 400 + 10 * i)}`,
        `one\t${of(values, (i) => i % 7)}`,
        `two\t${of(wavelengths, (i) => i % 5)}`,
      ].join('\n')
      const result = importSpectra(text)
      return result.ok ? result.spectra.length : 0
    }
    expect([15, 16].map((count) => inRows(count))).toEqual([0, 2])
    expect([31, 33].map((count) => inRows(40, count))).toEqual([1, 2])
    const blanks = [400, 0].map((from) =>
      Array.from({ length: 20 }, (_, i) => from + 10 * i + (i % 3) / 10).join('  '),
    )
    expect(found(`nm  ${blanks[0]}\none  ${blanks[1]}`)).toEqual([])
  })
})
