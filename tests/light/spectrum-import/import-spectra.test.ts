import { describe, expect, it } from 'vitest'
import { importSpectra } from '../../../src/light/spectrum-import/import-spectra.ts'
import { grid, refused, signalAt, taken, written } from './texts.ts'

describe('spectra from text', () => {
  it.each([
    ['comma', ',', false],
    ['semicolon', ';', false],
    ['semicolon', ';', true],
    ['tab', '\t', false],
    ['tab', '\t', true],
    ['blanks', '   ', false],
    ['blanks', ' ', true],
    ['comma', ', ', false],
  ])('reads columns parted by %s (%j, decimal comma %s)', (name, delimiter, comma) => {
    const { spectra, preview } = taken(written({ delimiter, comma }))
    expect(spectra).toHaveLength(1)
    expect(spectra[0]!.wavelengthNm).toEqual(grid)
    spectra[0]!.signal.forEach((value, i) => {
      expect(value).toBe(Number(signalAt(grid[i]!).toFixed(4)))
    })
    expect(preview).toMatchObject({
      delimiter: name,
      decimalMark: comma ? ',' : '.',
      unit: 'nm',
      direction: 'ascending',
      rows: 40,
      badLines: { count: 0 },
    })
  })

  it('takes micrometres by their size and gives nanometres', () => {
    const { spectra, preview } = taken(written({ scale: 1e-3 }))
    expect(preview.unit).toBe('um')
    expect(spectra[0]!.wavelengthNm).toEqual(grid)
  })

  it('says when the heading names another unit than the size shows', () => {
    const text = `wavelength (µm),counts\n${written()}`
    expect(taken(text).findings).toContainEqual({
      code: 'unit of heading disagrees',
      heading: 'um',
    })
    expect(taken(`wavelength (nm),counts\n${written()}`).findings).toEqual([])
  })

  it('turns descending spectra round and says so', () => {
    const { spectra, findings } = taken(written().split('\n').reverse().join('\n'))
    expect(spectra[0]!.wavelengthNm).toEqual(grid)
    expect(findings).toEqual([{ code: 'descending' }])
  })

  it('takes the mean where a wavelength is repeated', () => {
    const { spectra, findings } = taken(
      `400,1\n400,3\n${written().split('\n').slice(1).join('\n')}`,
    )
    expect(spectra[0]!.wavelengthNm).toEqual(grid)
    expect(spectra[0]!.signal[0]).toBe(2)
    expect(findings).toEqual([{ code: 'repeated wavelengths', spectrum: 0, count: 1 }])
  })

  it('names gaps and does not fill them', () => {
    const lines = written().split('\n')
    const { spectra, findings } = taken([...lines.slice(0, 12), ...lines.slice(20)].join('\n'))
    expect(spectra[0]!.wavelengthNm).toHaveLength(32)
    expect(findings).toEqual([{ code: 'gaps', spectrum: 0, gaps: [{ fromNm: 510, toNm: 600 }] }])
  })

  it('keeps headings apart from bad lines, and counts bad lines with their numbers', () => {
    const lines = written().split('\n')
    lines[4] = '440.0000,abc'
    lines.splice(10, 0, 'lamp switched off here')
    const text = `Date: 2024-05-01\n12 scans\nwavelength,lamp\n\n${lines.join('\n')}\nend of data\n`
    const { preview, spectra } = taken(text)
    expect(preview.headings).toEqual({
      count: 3,
      first: [
        { line: 1, text: 'Date: 2024-05-01' },
        { line: 2, text: '12 scans' },
        { line: 3, text: 'wavelength,lamp' },
      ],
    })
    expect(preview.badLines).toEqual({
      count: 3,
      first: [
        { line: 9, reason: 'no numbers', text: '440.0000,abc' },
        { line: 15, reason: 'no numbers', text: 'lamp switched off here' },
        { line: 46, reason: 'no numbers', text: 'end of data' },
      ],
    })
    expect(spectra[0]!.name).toBe('lamp')
    expect(spectra[0]!.wavelengthNm).toHaveLength(39)
  })

  it('makes a spectrum of every signal column', () => {
    const rows = grid.map((nm) => `${nm};${signalAt(nm)};${2 * nm};5`)
    const { spectra, findings, preview } = taken(`"nm";"lamp";"glow";"empty"\n${rows.join('\n')}`)
    expect(spectra.map(({ name }) => name)).toEqual(['lamp', 'glow'])
    expect(spectra[1]!.signal[3]).toBe(860)
    expect(findings).toEqual([{ code: 'flat column left out', block: 1, column: 3 }])
    expect(preview.signalColumns).toBe(3)
  })

  it('lets a column end before the others', () => {
    const rows = grid.map((nm, i) => `${nm};${signalAt(nm)};${i < 20 ? nm : ''}`)
    const { spectra, preview } = taken(rows.join('\n'))
    expect(spectra.map(({ signal }) => signal.length)).toEqual([40, 20])
    expect(preview.badLines.count).toBe(0)
  })

  it('parts spectra that stand one below another', () => {
    const { spectra, preview } = taken(
      `wavelength,lamp\n${written()}\n\nwavelength,glow\n${written()}\n${written()}`,
    )
    expect(spectra.map(({ name }) => name)).toEqual(['lamp', 'glow', null])
    for (const { wavelengthNm } of spectra) expect(wavelengthNm).toEqual(grid)
    expect(preview).toMatchObject({ blocks: 3, rows: 120, badLines: { count: 0 } })
  })

  it('leaves a running number in front of the wavelength out', () => {
    const text = grid.map((nm, i) => `${i}\t${nm}\t${signalAt(nm)}`).join('\n')
    const { spectra, findings } = taken(`n\tnm\tglow\n${text}`)
    expect(spectra).toHaveLength(1)
    expect(spectra[0]).toMatchObject({ name: 'glow', wavelengthNm: grid })
    expect(findings).toEqual([{ code: 'index column left out' }])
  })

  it('puts shuffled rows in order', () => {
    const lines = written().split('\n')
    const shuffled = lines.map((_, i) => lines[(i * 17) % lines.length]!)
    const { spectra, findings } = taken(shuffled.join('\n'))
    expect(spectra).toHaveLength(1)
    expect(spectra[0]!.wavelengthNm).toEqual(grid)
    expect(findings).toContainEqual({ code: 'unsorted' })
  })

  it('does not take a count above the data for a sample', () => {
    const { spectra, preview } = taken(`2048 16\n${written({ delimiter: ' ' })}`)
    expect(spectra[0]!.wavelengthNm).toEqual(grid)
    expect(preview.badLines.first).toEqual([
      { line: 1, reason: 'far from the rest', text: '2048 16' },
    ])
  })

  it('follows what a person fixes in the preview', () => {
    // Whole numbers with decimal commas read as well as three columns.
    const text = grid.map((nm) => `${nm},5 ${signalAt(nm).toFixed(2).replace('.', ',')}`).join('\n')
    expect(taken(text, { decimalMark: ',' }).spectra[0]!.wavelengthNm[0]).toBe(400.5)
    expect(importSpectra(text, { delimiter: 'tab' }).ok).toBe(false)
  })

  it('accepts Windows and old line ends, a byte-order mark and a typographic minus', () => {
    const text = `\uFEFF${written().replaceAll('\n', '\r\n')}\r\n790.5,−0.25\r`
    const { spectra } = taken(text)
    expect(spectra[0]!.signal.at(-1)).toBe(-0.25)
  })
})

describe('refusals name the line', () => {
  const ramp = Array.from({ length: 20 }, (_, i) => i)
  it.each([
    ['nothing', '', 'empty', null],
    ['blank lines', ' \n\t\n', 'empty', null],
    ['prose', '\nThis is no spectrum.', 'no numbers', 2],
    ['a binary file', `\uFFFDPNG\r\n\x1a\n\0\0`, 'not text', 2],
    ['one column', ramp.map((i) => `${400 + i}.5`).join('\n'), 'one column only', 1],
    ['three rows', '400,1\n401,2\n402,3', 'too few rows', 3],
    ['pixel numbers', ramp.map((i) => `${i},${i * i}`).join('\n'), 'pixel numbers', 1],
    [
      'angstroms',
      ramp.map((i) => `${4000 + 10 * i},${i}`).join('\n'),
      'wavelength unit unknown',
      1,
    ],
    ['a flat line', ramp.map((i) => `${400 + i},7`).join('\n'), 'no signal', 1],
    [
      'commas of both kinds',
      ramp.map((i) => `40${i >> 2},${(i & 3) * 2},0,${i}`).join('\n'),
      'comma twice',
      2,
    ],
    [
      'more nonsense than numbers',
      ramp.map((i) => (i % 3 === 0 ? `${400 + i},${i}` : `${400 + i},x`)).join('\n'),
      'mostly unreadable',
      2,
    ],
  ])('%s', (_, text, code, line) => {
    expect(refused(text)).toMatchObject({ ok: false, code, line })
  })
})
