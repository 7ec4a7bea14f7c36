import { describe, expect, test } from 'vitest'
import { importSpectra } from '../../../src/light/spectrum-import/import-spectra.ts'
import { grid, refused, signalAt, taken } from './texts.ts'

/** Rows of a spectrum at these wavelengths, a signal that is never flat. */
const rowsAt = (wavelengths: readonly number[]) =>
  wavelengths.map((nm, i) => `${nm},${(i % 7) + 1}`).join('\n')
const from = (start: number, count: number, step = 1) =>
  Array.from({ length: count }, (_, i) => start + step * i)
const blocksOf = (...parts: readonly (readonly number[])[]) => {
  const { spectra, preview } = taken(rowsAt(parts.flat()))
  return { counts: spectra.map(({ signal }) => signal.length), preview }
}

describe('where a text falls into blocks', () => {
  test('a step back by more than six usual ones begins anew, a shorter one is disorder', () => {
    const back = (steps: number) => blocksOf(from(400, 30), from(429 - steps, 30))
    expect(back(5.9)).toMatchObject({ counts: [60], preview: { direction: 'unsorted' } })
    expect(back(6.1).counts).toEqual([30, 30])
    // In steps of the text, whatever they are.
    expect(blocksOf(from(400, 30, 10), from(690 - 59, 30, 10)).counts).toEqual([60])
    expect(blocksOf(from(400, 30, 10), from(690 - 61, 30, 10)).counts).toEqual([30, 30])
  })

  test('what goes on beyond a gap, above or below, is the same spectrum', () => {
    expect(blocksOf(from(400, 30), from(500, 30)).counts).toEqual([60])
    const below = blocksOf(from(500, 30), from(400, 30))
    expect(below).toMatchObject({ counts: [60], preview: { blocks: 1, direction: 'unsorted' } })
    const between = blocksOf(from(400, 20), from(500, 20), from(450, 20))
    expect(between.counts).toEqual([40, 20])
  })

  test('what comes to the same end from the other side is another', () => {
    // 440 down to 400, then 440 and up; and 400 to 440, then below and up to 400.
    expect(blocksOf(from(440, 41, -1), from(440, 30)).counts).toEqual([41, 30])
    expect(blocksOf(from(440, 41, -1), from(441, 30)).counts).toEqual([71])
    expect(blocksOf(from(400, 41), from(371, 30)).counts).toEqual([41, 30])
    expect(blocksOf(from(400, 41), from(370, 30)).counts).toEqual([71])
  })

  test('up to two rows far from all others are none, three are a part', () => {
    const with_ = (count: number) => blocksOf(from(700, count), from(400, 40))
    expect(with_(2)).toMatchObject({ counts: [40], preview: { badLines: { count: 2 } } })
    expect(with_(2).preview.badLines.first.map(({ reason }) => reason)).toEqual([
      'far from the rest',
      'far from the rest',
    ])
    expect(with_(3)).toMatchObject({ counts: [43], preview: { badLines: { count: 0 } } })
  })

  test('where more than a fifth would be far from the rest the text is merely out of order', () => {
    const strewn = (far: number, near: number) =>
      blocksOf(from(400, near), ...from(600, far, 50).map((nm) => [nm])).counts
    expect(strewn(5, 20)).toEqual([20])
    expect(strewn(6, 20)).toEqual([26])
  })
})

describe('spectra written as rows', () => {
  const line = (labels: readonly string[], values: readonly (number | string)[], by = '\t') =>
    [...labels, ...values].join(by)
  const signals = grid.map(signalAt)
  const names = (...lines: string[]) => taken(lines.join('\n')).spectra.map(({ name }) => name)
  const format = (...lines: string[]) => {
    const result = importSpectra(lines.join('\n'))
    return result.ok ? result.preview.format : result.code
  }

  test('may fall, and are turned round', () => {
    const falling = line(['nm'], grid.toReversed())
    const { spectra, preview } = taken([falling, line(['lamp'], signals.toReversed())].join('\n'))
    expect(preview.format).toBe('rows')
    expect(spectra[0]).toMatchObject({ name: 'lamp', wavelengthNm: grid, signal: signals })
  })

  test('may be in micrometres', () => {
    const { spectra, preview } = taken(
      [
        line(
          ['um'],
          grid.map((nm) => nm / 1000),
        ),
        line(['lamp'], signals),
      ].join('\n'),
    )
    expect([preview.format, preview.unit]).toEqual(['rows', 'um'])
    expect(spectra[0]!.wavelengthNm).toEqual(grid)
  })

  test('are none where the first line neither rises nor falls, or is no wavelengths', () => {
    const of = (axis: readonly (number | string)[]) =>
      format(line(['nm'], axis), line(['a'], signals))
    expect(of(grid)).toBe('rows')
    expect(of(grid.map((nm, i) => (i === 20 ? nm - 10 : nm)))).not.toBe('rows')
    expect(of(grid.map((nm, i) => (i === 20 ? nm - 15 : nm)))).not.toBe('rows')
    expect(of(grid.toReversed().map((nm, i) => (i === 20 ? nm + 10 : nm)))).not.toBe('rows')
    expect(of(grid.map((nm) => nm + 5000))).not.toBe('rows')
    expect(of(grid.map((nm, i) => (i === 39 ? 2700 : nm)))).not.toBe('rows')
  })

  test('may have up to three cells of something else behind the wavelengths', () => {
    const of = (more: number) =>
      format(line(['nm'], [...grid, ...new Array<string>(more).fill('x')]), line(['a'], signals))
    expect([3, 4].map((more) => of(more) === 'rows')).toEqual([true, false])
  })

  test('are named by what stands in front: three words, quotes and empty cells left out', () => {
    const axis = line(['', '', '', '', ''], grid)
    expect(
      names(
        axis,
        line(['"lamp"', '', '3', 'bench', 'late'], signals),
        '',
        line(['n/a', '', '', '', ''], signals),
        line(['  glow ', '-', '', '', ''], signals),
      ),
    ).toEqual(['lamp 3 bench', 'Row 2', 'glow'])
  })

  test('have at most forty cells in front, and wavelengths within the first sixty lines', () => {
    const labelled = (count: number) => {
      const labels = new Array<string>(count).fill('x')
      return format(line(labels, grid), line(labels, signals)) === 'rows'
    }
    expect([40, 41].map(labelled)).toEqual([true, false])
    const below = (notes: number) =>
      format(
        ...new Array<string>(notes).fill('a note'),
        line(['nm'], grid),
        line(['a'], signals),
      ) === 'rows'
    expect([59, 60].map(below)).toEqual([true, false])
  })

  test('of which none follows the wavelengths are no rows', () => {
    expect(format(line(['nm'], grid), 'no values')).not.toBe('rows')
  })

  test('leave a cell without value out', () => {
    const { spectra } = taken(
      [
        line(['nm'], grid),
        line(
          ['a'],
          signals.map((v, i) => (i === 5 ? '' : v)),
        ),
      ].join('\n'),
    )
    expect(spectra[0]!.wavelengthNm).toEqual(grid.filter((_, i) => i !== 5))
  })
})

describe('lines of a text', () => {
  test('are named in a refusal: the first that says something', () => {
    expect(refused('\n \n only words\nhere')).toMatchObject({ line: 3, text: ' only words' })
    expect(refused('\n\n3 apples\n4 pears')).toMatchObject({ line: 3, text: '3 apples' })
  })

  test('behind the last row and among the rows are stray, above a block they are headings', () => {
    const { preview } = taken(
      [
        'made up',
        rowsAt(from(400, 20)),
        'second lamp',
        rowsAt(from(400, 20)),
        'the end',
        'of it',
      ].join('\n'),
    )
    expect(preview.headings.first.map(({ line }) => line)).toEqual([1, 22])
    expect(preview.badLines.first.map(({ line }) => line)).toEqual([43, 44])
  })

  test('are cut at eighty letters where they are shown', () => {
    const text = (length: number) =>
      taken(`${'n'.repeat(length)}\n${rowsAt(from(400, 20))}`).preview.headings.first[0]!.text
    expect(text(80)).toBe('n'.repeat(80))
    expect(text(81)).toBe(`${'n'.repeat(80)}…`)
  })

  test('are shown twenty at most, and counted all', () => {
    const { headings } = taken(`${'words\n'.repeat(30)}${rowsAt(from(400, 20))}`).preview
    expect([headings.count, headings.first.length]).toEqual([30, 20])
  })

  test('with too many or too few cells are told so', () => {
    const rows = rowsAt(from(400, 20)).split('\n')
    rows[5] = '405,1,2'
    rows[9] = '409'
    expect(taken(rows.join('\n')).preview.badLines.first).toEqual([
      { line: 6, reason: 'too many columns', text: '405,1,2' },
      { line: 10, reason: 'too few columns', text: '409' },
    ])
  })
})
