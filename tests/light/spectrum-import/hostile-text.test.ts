import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { importSpectra } from '../../../src/light/spectrum-import/import-spectra.ts'
import { taken, written } from './texts.ts'

describe('hostile text', () => {
  const piece = fc.oneof(
    fc.string({ maxLength: 12 }),
    fc.double().map(String),
    fc.integer({ min: -5, max: 3000 }).map(String),
    fc.constantFrom(
      ',',
      ';',
      '\t',
      ' ',
      '\n',
      '\r',
      '.',
      '-',
      'e',
      '"',
      'NaN',
      '1e999',
      '−',
      '\uFEFF',
    ),
    fc
      .tuple(
        fc.integer({ min: 300, max: 900 }),
        fc.double({ noNaN: true }),
        fc.constantFrom(',', ';', '\t'),
      )
      .map(([nm, value, delimiter]) => `\n${nm}${delimiter}${value}\n`),
  )

  const cut = fc.double({ min: 0, max: 1, noNaN: true })

  it('never throws, and what it takes is finite, ascending and plain JSON', () => {
    let accepted = 0
    fc.assert(
      fc.property(fc.array(piece, { maxLength: 40 }), cut, fc.boolean(), (pieces, at, bare) => {
        // Half of the texts are rubbish alone, half a spectrum with rubbish spliced in.
        const good = bare ? '' : written()
        const from = Math.floor(at * good.length)
        const result = importSpectra(good.slice(0, from) + pieces.join('') + good.slice(from))
        expect(JSON.parse(JSON.stringify(result))).toEqual(result)
        if (!result.ok) {
          expect(result.line === null || result.line >= 1).toBe(true)
          return
        }
        accepted += 1
        for (const { wavelengthNm, signal } of result.spectra) {
          expect(wavelengthNm.length).toBe(signal.length)
          expect(wavelengthNm.every((nm, i) => i === 0 || nm > wavelengthNm[i - 1]!)).toBe(true)
          expect(signal.every(Number.isFinite)).toBe(true)
        }
      }),
      { numRuns: 2000, seed: 20240501 },
    )
    expect(accepted).toBeGreaterThan(500)
  })

  it('gives back what was written, whatever the format', () => {
    const sample = fc.record({
      start: fc.integer({ min: 200, max: 400 }),
      step: fc.integer({ min: 1, max: 20 }),
      signal: fc.array(fc.integer({ min: -1e6, max: 1e6 }), { minLength: 10, maxLength: 80 }),
      format: fc.constantFrom(
        [',', '.'],
        [';', '.'],
        [';', ','],
        ['\t', ','],
        [' ', '.'],
        [' ', ','],
      ),
      descending: fc.boolean(),
    })
    fc.assert(
      fc.property(sample, ({ start, step, signal, format, descending }) => {
        fc.pre(new Set(signal).size > 1)
        const show = (value: number) => (value / 10).toFixed(1).replace('.', format[1]!)
        const lines = signal.map(
          (value, i) => show(10 * start + step * i) + format[0] + show(value),
        )
        if (descending) lines.reverse()
        const [spectrum, ...more] = taken(lines.join('\n')).spectra
        expect(more).toEqual([])
        expect(spectrum!.signal).toEqual(
          signal.map((value) => Number((value / 10).toFixed(1)) || 0),
        )
        expect(spectrum!.wavelengthNm).toEqual(signal.map((_, i) => (10 * start + step * i) / 10))
      }),
      { numRuns: 1000 },
    )
  })

  it.each([
    ['digits without end', (n: number) => '4'.repeat(n)],
    ['commas', (n: number) => ','.repeat(n)],
    ['blanks', (n: number) => ' '.repeat(n)],
    ['blanks and a digit', (n: number) => `${' '.repeat(n)}4`],
    ['line ends', (n: number) => '\n'.repeat(n)],
    [
      'rows',
      (n: number) => Array.from({ length: n >> 4 }, (_, i) => `${400 + (i % 500)},${i}`).join('\n'),
    ],
    ['headings', (n: number) => `${'a,b\n'.repeat(n >> 2)}`],
    [
      'zigzag',
      (n: number) =>
        Array.from({ length: n >> 3 }, (_, i) => `${i % 2 ? 400 : 700},${i}`).join('\n'),
    ],
    ['dashes', (n: number) => '-'.repeat(n)],
    ['quotes', (n: number) => '"'.repeat(n)],
  ])('ends however long it is: %s', (_, make) => {
    // Work that grows with the square of the length takes 1e11 steps here: longer than any test may.
    const result = importSpectra(make(400_000))
    expect(typeof result.ok).toBe('boolean')
  })

  it.each([
    ['in one line', `1A${'S99999999'.repeat(3)}`],
    ['in many lines', Array.from({ length: 3000 }, (_, i) => `${i}AS99999`).join('\n')],
  ])('is refused where a few letters stand for millions of values, %s', (_, data) => {
    // JCAMP-DX 4.24, table VII: S to Z repeat the value before them.
    const head = '##TITLE=x\n##JCAMP-DX=4.24\n##XUNITS=NANOMETERS\n##FIRSTX=400\n##LASTX=800\n'
    const text = `${head}##XYDATA=(X++(Y..Y))\n${data}\n##END=\n`
    expect(importSpectra(text)).toMatchObject({ ok: false, code: 'too large' })
  })
})
