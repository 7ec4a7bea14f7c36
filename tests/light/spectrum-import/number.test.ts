import { describe, expect, test } from 'vitest'
import { readJcamp } from '../../../src/light/spectrum-import/jcamp.ts'
import { axisNumber, isNoValue, parseNumber } from '../../../src/light/spectrum-import/number.ts'

describe('a number as instruments write it', () => {
  test.each([
    ['1', '.', 1],
    ['-1.5', '.', -1.5],
    ['−1.5', '.', -1.5],
    ['+1.5', '.', 1.5],
    ['.5', '.', 0.5],
    ['5.', '.', 5],
    ['1e3', '.', 1000],
    ['1.5E-3', '.', 0.0015],
    ['1.5D+02', '.', 150],
    ['  "2.5"  ', '.', 2.5],
    ['1,234.5', '.', 1234.5],
    ['1,234,567.5', '.', 1234567.5],
    ['1,5', ',', 1.5],
    [',5', ',', 0.5],
    [',25', ',', 0.25],
    ['.25', '.', 0.25],
    ['-1,5e3', ',', -1500],
    ['1.234,5', ',', 1234.5],
    ['0', '.', 0],
  ] as const)('%s with the mark %s', (text, mark, value) => {
    expect(parseNumber(text, mark)).toBe(value)
  })

  test.each([
    ['', '.'],
    [' ', '.'],
    ['.', '.'],
    ['-', '.'],
    ['1,5', '.'],
    ['1.5', ','],
    ['1,234', '.'],
    ['12,34.5', '.'],
    ['1 2', '.'],
    ['1e', '.'],
    ['1e999', '.'],
    ['NaN', '.'],
    ['inf', '.'],
    ['--1', '.'],
    ['1x', '.'],
    ['0x10', '.'],
  ] as const)('%s with the mark %s is none', (text, mark) => {
    expect(parseNumber(text, mark)).toBeNaN()
  })

  test('of 64 signs is read, a longer one is not', () => {
    expect(parseNumber(`0.${'1'.repeat(62)}`, '.')).toBeCloseTo(1 / 9, 12)
    expect(parseNumber(`0.${'1'.repeat(63)}`, '.')).toBeNaN()
  })
})

test('a cell without a value is told from one with words', () => {
  for (const text of ['', ' ', '""', 'nan', 'NaN', '-nan', '+nan', 'nan(ind)', '1.#IND', '-1.#INF'])
    expect(isNoValue(text), text).toBe(true)
  for (const text of ['inf', '-Infinity', 'n/a', 'NA', '#N/A', 'null', 'None', '-', '---', '***'])
    expect(isNoValue(text), text).toBe(true)
  for (const text of ['0', '1', 'abc', 'nano', '----', 'not a number', 'x', ' '.repeat(65)])
    expect(isNoValue(text), text).toBe(false)
})

test('a number of the axis may have its unit behind it', () => {
  expect(axisNumber('380', '.')).toEqual({ value: 380, unit: '' })
  for (const unit of ['nm', 'um', 'µm', 'μm', 'Å', 'angstroms', 'Angstrom', 'cm-1', 'cm^-1', 'eV'])
    expect(axisNumber(`380 ${unit}`, '.')).toEqual({ value: 380, unit })
  expect(axisNumber('0,38um', ',')).toEqual({ value: 0.38, unit: 'um' })
  expect(axisNumber('380 s', '.')).toEqual({ value: Number.NaN, unit: '' })
  expect(axisNumber('nm', '.').value).toBeNaN()
  expect(axisNumber('380nm to 780', '.').value).toBeNaN()
  expect(axisNumber(`${'1'.repeat(63)}nm`, '.').value).toBeNaN()
})

describe('JCAMP-DX 4.24', () => {
  const file = (labels: string, data: string) =>
    readJcamp(
      `##TITLE= made up\n##XUNITS= NANOMETERS\n##YUNITS= COUNTS\n${labels}\n${data}\n##END=`,
    )
  const points = (labels: string, data: string) => {
    const result = file(labels, data)
    if (!result.ok) throw new Error(result.code)
    const { wavelengthNm, signal, name } = result.spectra[0]!
    return { name, list: wavelengthNm.map((nm, i) => [nm, signal[i]]) }
  }

  test('counts x from the first in equal steps to the last', () => {
    const found = points('##FIRSTX= 400\n##LASTX= 430', '##XYDATA= (X++(Y..Y))\n400 1 2\n420 3 4')
    expect(found.list).toEqual([
      [400, 1],
      [410, 2],
      [420, 3],
      [430, 4],
    ])
    expect(found.name).toBe('made up (COUNTS)')
  })

  test('counts by DELTAX, or by its lines, where the last x is not said', () => {
    const data = '##XYDATA= (X++(Y..Y))\n400 1 2\n420 3'
    expect(points('##FIRSTX= 400\n##DELTAX= 5', data).list.map(([nm]) => nm)).toEqual([
      400, 405, 410,
    ])
    expect(points('', '##XYDATA= (X++(Y..Y))\n400 1\n410 2\n420 3').list.map(([nm]) => nm)).toEqual(
      [400, 410, 420],
    )
  })

  test('multiplies by its factors', () => {
    const found = points('##XFACTOR= 10\n##YFACTOR= 0.5', '##XYDATA= (X++(Y..Y))\n40 1\n41 2\n42 3')
    expect(found.list).toEqual([
      [400, 0.5],
      [410, 1],
      [420, 1.5],
    ])
    const pairs = points('##XFACTOR= 10\n##YFACTOR= 0.5', '##XYPOINTS= (XY..XY)\n40, 1; 41, 2')
    expect(pairs.list).toEqual([
      [400, 0.5],
      [410, 1],
    ])
  })

  test('reads packed, squeezed, difference and duplicate forms (table VII)', () => {
    const of = (line: string) =>
      points('##FIRSTX= 400\n##DELTAX= 1', `##XYDATA= (X++(Y..Y))\n${line}`).list.map(([, y]) => y)
    expect(of('400+10+11-12')).toEqual([10, 11, -12])
    // A 1, B 2, a -1, @ 0 are first digits with their sign.
    expect(of('400A0B1a5@')).toEqual([10, 21, -15, 0])
    // J +1, j -1, % 0, K5 +25 are differences from the one before.
    expect(of('400A0Jj%K5')).toEqual([10, 11, 10, 10, 35])
    // T twice in all, of a value and of a difference.
    expect(of('400A0TB0')).toEqual([10, 10, 20])
    expect(of('400A0JTB0')).toEqual([10, 11, 12, 20])
    expect(of('400A0U')).toEqual([10, 10, 10])
  })

  test('after a line of differences the next one repeats its last ordinate', () => {
    const { list } = points(
      '##FIRSTX= 400\n##LASTX= 403',
      '##XYDATA= (X++(Y..Y))\n400A0J\n401A1J\n403A2',
    )
    expect(list).toEqual([
      [400, 10],
      [401.5, 11],
      [403, 12],
    ])
  })

  test('leaves out comments, missing ordinates and text', () => {
    const { list } = points(
      '##FIRSTX= 400\n##DELTAX= 1 $$ a comment',
      '##XYDATA= (X++(Y..Y))\n400 1 ? 3 $$ 9 9',
    )
    expect(list).toEqual([
      [400, 1],
      [402, 3],
    ])
  })

  test('is refused without a unit or numbers, or with a Raman shift, at its line', () => {
    const of = (text: string) => readJcamp(`##TITLE= x\n${text}\n##END=`)
    expect(of('##XYDATA= (XY..XY)\n400, 1')).toEqual({
      ok: false,
      code: 'wavelength unit unknown',
      line: 2,
    })
    expect(of('##XUNITS= NANOMETERS\n##XYDATA= (XY..XY)')).toMatchObject({ code: 'no numbers' })
    expect(
      of('##DATATYPE= RAMAN SPECTRUM\n##XUNITS= 1/CM\n##XYDATA= (XY..XY)\n400, 1'),
    ).toMatchObject({ code: 'raman shift', line: 4 })
    expect(of('##XUNITS= NANOMETERS\n##XYDATA= (XY..XY)\n4e9, 1; 5e9, 2')).toMatchObject({
      code: 'wavelengths out of range',
    })
  })

  test('holds several spectra, each with its own labels', () => {
    const one = (title: string, y: number) =>
      `##TITLE= ${title}\n##X UNITS= nanometers\n##XYPOINTS= (XY..XY)\n410 ${y}; 400 ${y + 1}\n##END=\n`
    const result = readJcamp(one('first', 1) + one('second', 5))
    if (!result.ok) throw new Error(result.code)
    expect(result.spectra).toEqual([
      { name: 'first', wavelengthNm: [400, 410], signal: [2, 1] },
      { name: 'second', wavelengthNm: [400, 410], signal: [6, 5] },
    ])
  })
})
