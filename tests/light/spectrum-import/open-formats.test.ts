import { describe, expect, test } from 'vitest'
import { grid, refused, signalAt, taken } from './texts.ts'

const jcamp = (title: string, points: readonly (readonly [number, number])[], labels = '') =>
  `##TITLE= ${title}\n##XUNITS= NANOMETERS\n${labels}##XYPOINTS= (XY..XY)\n${points
    .map(([x, y]) => `${x}, ${y}`)
    .join('\n')}\n##END=\n`
const points = grid.map((nm) => [nm, signalAt(nm)] as const)
const tm27 = (samples: readonly (readonly [number, number])[]) =>
  `<IESTM2714>${samples
    .map(([nm, y]) => `<SpectralData wavelength="${nm}">${y}</SpectralData>`)
    .join('')}</IESTM2714>`

describe('an open format', () => {
  test('says how it was read: rows, blocks, unit', () => {
    const { preview, findings } = taken(jcamp('one', points) + jcamp('two', points.slice(0, 30)))
    expect(preview).toEqual({
      format: 'JCAMP-DX',
      delimiter: 'blanks',
      decimalMark: '.',
      unit: 'nm',
      direction: 'ascending',
      rows: 70,
      blocks: 2,
      signalColumns: 1,
      headings: { count: 0, first: [] },
      badLines: { count: 0, first: [] },
    })
    expect(findings).toEqual([])
    expect(
      taken(
        jcamp('one', points)
          .replace('NANOMETERS', 'MICROMETERS')
          .replaceAll(/^(\d+),/gm, (_, nm) => `${Number(nm) / 1000},`),
      ).findings,
    ).toEqual([])
    expect(
      taken(
        jcamp(
          'one',
          points.map(([nm, y]) => [1e7 / nm, y] as const),
        ).replace('NANOMETERS', '1/CM'),
      ).findings,
    ).toEqual([{ code: 'axis converted', from: 'per cm' }])
  })

  test.each([
    ['JCAMP-DX', (samples: typeof points) => jcamp('one', samples)],
    ['IES TM-27', tm27],
  ])('%s needs eight samples that are not all alike', (_, text) => {
    expect(taken(text(points.slice(0, 8))).spectra).toHaveLength(1)
    expect(refused(text(points.slice(0, 7))).code).toBe('too few rows')
    expect(refused(text(points.map(([nm]) => [nm, 3] as const))).code).toBe('too few rows')
  })

  test('of TM-27 has wavelengths of 150 to 2600 nm, and samples at all', () => {
    expect(refused(tm27(points.map(([nm, y]) => [nm + 2300, y] as const))).code).toBe(
      'too few rows',
    )
    expect(refused(tm27([])).code).toBe('no numbers')
  })

  test('keeps the good spectra of several', () => {
    const { spectra } = taken(
      jcamp('short', points.slice(0, 5)) +
        jcamp('long', points) +
        jcamp(
          'flat',
          points.map(([nm]) => [nm, 1] as const),
        ),
    )
    expect(spectra.map(({ name }) => name)).toEqual(['long'])
  })

  test('holds 256 spectra at most', () => {
    const many = (count: number) => jcamp('one', points.slice(0, 8)).repeat(count)
    expect(taken(many(256)).spectra).toHaveLength(256)
    expect(refused(many(257)).code).toBe('too large')
  })

  test('is refused at the line that shows why', () => {
    const text = jcamp('one', points, '##DATA TYPE= RAMAN SPECTRUM\n')
    expect(refused(text)).toMatchObject({
      code: 'raman shift',
      line: 4,
      text: '##XYPOINTS= (XY..XY)',
    })
  })
})

describe('JCAMP-DX', () => {
  test('may begin with comments and blank lines, and have blank lines within', () => {
    const text = `$$ made up\n\n${jcamp('one', points).replaceAll('\n4', '\n\n4')}`
    expect(taken(text).spectra[0]!.wavelengthNm).toEqual(grid)
  })

  test('takes the first of a repeated wavelength, and leaves out what is no wavelength', () => {
    const { spectra } = taken(
      jcamp('one', [[400, 99], ...points.map(([nm, y]) => [nm, y + 1] as const), [5000, 1]]),
    )
    expect(spectra[0]!.wavelengthNm).toEqual(grid)
    expect(spectra[0]!.signal.slice(0, 2)).toEqual([99, signalAt(410) + 1])
  })

  test('is out of range where more than half of it is', () => {
    const of = (out: number) =>
      jcamp('one', [...points, ...Array.from({ length: out }, (_, i) => [5000 + i, 1] as const)])
    expect(taken(of(40)).spectra[0]!.wavelengthNm).toEqual(grid)
    expect(refused(of(41)).code).toBe('wavelengths out of range')
  })

  test('is named by its title and what it counts, eighty letters at most', () => {
    const name = (title: string, labels = '') =>
      taken(jcamp(title, points, labels)).spectra[0]!.name
    expect(name(' lamp ')).toBe('lamp')
    expect(name('lamp', '##YUNITS= COUNTS \n')).toBe('lamp (COUNTS)')
    expect(name('', '##YUNITS= COUNTS\n')).toBe('(COUNTS)')
    expect(name('')).toBeNull()
    expect(name('n'.repeat(100))).toBe('n'.repeat(80))
  })

  test('may begin with comments', () => {
    const text = `$$ made up\n  $$ on a bench\n${jcamp('one', points)}`
    expect(taken(text).spectra.map(({ name }) => name)).toEqual(['one'])
  })

  test('may have blocks without data, as a file of several begins with one', () => {
    const text = `##TITLE= all\n##DATA TYPE= LINK\n##BLOCKS= 1\n${jcamp('one', points)}##END=\n`
    expect(taken(text).spectra.map(({ name }) => name)).toEqual(['one'])
  })

  test('reads labels in any writing: blanks, dashes, slashes and case do not count', () => {
    const text = jcamp('one', points)
      .replace('##XUNITS', '## x-units')
      .replace('##XYPOINTS', '##Xy_Points')
    expect(taken(text).spectra[0]!.wavelengthNm).toEqual(grid)
  })
})
