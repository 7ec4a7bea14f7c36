import { describe, expect, it } from 'vitest'
import { lightQuantity } from '../../../src/light/spectrum-import/quantity.ts'
import { unitFromHeading } from '../../../src/light/spectrum-import/unit.ts'
import { grid, refused, signalAt, taken } from './texts.ts'

const rows = (axis: (nm: number) => string, signal = signalAt) =>
  grid.map((nm) => `${axis(nm)}\t${signal(nm).toFixed(4)}`).join('\n')
const nmOf = (text: string) => taken(text).spectra[0]!.wavelengthNm

describe('axes in other units', () => {
  it.each([
    ['Wavenumber (cm-1)', 'per cm'],
    ['1/CM', 'per cm'],
    ['Wavenumbers [cm^-1]', 'per cm'],
    ['cm⁻¹', 'per cm'],
    ['Raman Shift (cm-1)', 'raman shift'],
    ['Wavelength (nm)', 'nm'],
    ['Lambda/µm', 'um'],
    ['Wavelength (Å)', 'angstrom'],
    ['Energy (eV)', 'eV'],
    ['Intensity', null],
  ] as const)('%s is read as %s', (heading, unit) => {
    expect(unitFromHeading(heading)).toBe(unit)
  })

  it('are turned into nanometres where the heading names them', () => {
    const back = (heading: string, axis: (nm: number) => string) =>
      nmOf(`${heading}\tCounts\n${rows(axis)}`)
    const near = (found: readonly number[]) => {
      expect(found).toHaveLength(grid.length)
      found.forEach((nm, i) => {
        expect(Math.abs(nm - grid[i]!)).toBeLessThan(0.01)
      })
    }
    near(back('Wavenumber (cm-1)', (nm) => (1e7 / nm).toFixed(4)))
    near(back('Wavelength (A)', (nm) => (10 * nm).toFixed(2)))
    near(back('Energy (eV)', (nm) => (1239.841984 / nm).toFixed(7)))
    near(back('Wavelength (um)', (nm) => (nm / 1000).toFixed(5)))
    const { findings } = taken(`1/CM\tCounts\n${rows((nm) => (1e7 / nm).toFixed(4))}`)
    expect(findings).toContainEqual({ code: 'axis converted', from: 'per cm' })
  })

  it('are asked for where nothing names them, and a Raman shift is refused', () => {
    expect(refused(rows((nm) => (1e7 / nm).toFixed(2))).code).toBe('wavelength unit unknown')
    expect(refused(`Raman shift (cm-1)\tCounts\n${rows((nm) => `${nm}`)}`).code).toBe('raman shift')
    // A header above that speaks of the axis counts too.
    expect(refused(`X-axis: Raman shift\n\nX\tY\n${rows((nm) => `${nm}`)}`).code).toBe(
      'raman shift',
    )
    // Shifts from 100 to 4000 without a word: too much lies outside 150 to 2600 nm.
    const shifts = Array.from({ length: 40 }, (_, i) => `${100 + 100 * i}\t${i * i}`).join('\n')
    expect(refused(shifts).code).toBe('wavelength unit unknown')
    const infrared = Array.from({ length: 40 }, (_, i) => `${400 + 90 * i}\t${i * i}`).join('\n')
    expect(refused(`1/CM\tTRANSMITTANCE\n${infrared}`).code).toBe('wavelengths out of range')
  })
})

describe('what instruments write', () => {
  it.each([
    [
      'quoted cells with decimal commas between commas',
      (nm: number, y: number) =>
        `"${`${nm}`.replace('.', ',')}","${y.toFixed(2).replace('.', ',')}"`,
    ],
    ['exponents with a D', (nm: number, y: number) => ` ${`${nm / 1e3}`}D+03  ${y.toFixed(4)}D+00`],
    [
      'thousands in the signal',
      (nm: number, y: number) =>
        `${nm};${y.toLocaleString('en-US', { minimumFractionDigits: 2, useGrouping: true })}`,
    ],
    ['a comment mark before the heading', (nm: number, y: number) => `${10 * nm}  ${y.toFixed(3)}`],
  ])('%s', (name, row) => {
    const heading = name.startsWith('a comment') ? '# lambda(Angstrom)  counts\n' : ''
    const { wavelengthNm, signal } = taken(
      heading + grid.map((nm) => row(nm, 3000 + signalAt(nm))).join('\n'),
    ).spectra[0]!
    expect(wavelengthNm).toEqual(grid)
    signal.forEach((value, i) => {
      expect(Math.abs(value - 3000 - signalAt(grid[i]!))).toBeLessThan(0.01)
    })
  })

  it('the style of the integration time stays with the spectrum, numbers as #', () => {
    const text = (line: string) => `${line}\n${rows((nm) => `${nm}`)}`
    const style = (line: string) => taken(text(line)).spectra[0]!.integration
    expect(style('Integration Time (sec): 0.25')).toBe('integration time (sec): #')
    expect(style('Integration Time (sec): 4')).toBe('integration time (sec): #')
    expect(style('INTEGRATION=100 ms')).toBe('integration=# ms')
    expect(style('Wavelength\tCounts')).toBeUndefined()
  })

  it('a header padded with NULs is no picture', () => {
    expect(nmOf(`Spectrometer\0\0\0\0\0\0\0\nDate\0\0\0\n${rows((nm) => `${nm}`)}`)).toEqual(grid)
  })

  it('a NaN in one column costs that cell only', () => {
    const text = grid.map((nm, i) => `${nm},${i % 3 === 0 ? 'NaN' : signalAt(nm)},${nm / 2}`)
    const { spectra, preview, findings } = taken(text.join('\n'))
    expect(preview.badLines.count).toBe(0)
    expect(spectra[1]!.wavelengthNm).toEqual(grid)
    expect(spectra[0]!.wavelengthNm).toHaveLength(26)
    expect(findings).toContainEqual(expect.objectContaining({ code: 'cells without value' }))
  })

  it('a unit behind the wavelength in its cell is understood', () => {
    expect(nmOf(rows((nm) => `${nm}nm`))).toEqual(grid)
    expect(nmOf(rows((nm) => `${nm} nm`))).toEqual(grid)
  })

  it('of names and units in two lines the names are kept', () => {
    const text = `Wavelength\tSample 1\n(nm)\t(uW/cm2/nm)\n${rows((nm) => `${nm}`)}`
    expect(taken(text).spectra[0]!.name).toBe('Sample 1 (uW/cm2/nm)')
  })

  it.each([
    [',', '.'],
    [';', ','],
    ['\t', '.'],
  ])('spectra as rows, parted by %j with decimal %s', (delimiter, mark) => {
    const cell = (value: number) => value.toFixed(3).replace('.', mark)
    const line = (name: string, value: (nm: number) => number) =>
      [name, ...grid.map((nm) => cell(value(nm)))].join(delimiter)
    const text = [line('Lamp', (nm) => nm), line('first', signalAt), line('second', (nm) => nm / 7)]
    const { spectra, preview } = taken(text.join('\n'))
    expect(preview.format).toBe('rows')
    expect(spectra.map(({ name }) => name)).toEqual(['first', 'second'])
    expect(spectra[0]!.wavelengthNm).toEqual(grid)
    expect(spectra[0]!.signal[5]).toBeCloseTo(signalAt(grid[5]!), 3)
  })

  it('spectra as rows with the unit in each cell', () => {
    const text = [
      ['id', ...grid.map((nm) => `${nm}nm`)].join(','),
      ['a', ...grid.map((nm) => signalAt(nm))].join(','),
    ]
    expect(nmOf(text.join('\n'))).toEqual(grid)
  })

  it('a published table without headings, values missing in some columns', () => {
    // As the CIE publishes its data tables: comma-separated, no heading, NaN outside a function's range.
    const text = grid.map((nm) => `${nm},${nm < 500 ? 'NaN' : signalAt(nm)},${signalAt(nm)}`)
    const { spectra } = taken(text.join('\n'))
    expect(spectra.map(({ signal }) => signal.length)).toEqual([30, 40])
  })
})

describe('JCAMP-DX', () => {
  const head = (lines: string) =>
    `##TITLE= glow\n##JCAMP-DX= 4.24\n##DATA TYPE= UV/VIS SPECTRUM\n${lines}`
  const values = grid.map((nm) => Math.round(signalAt(nm)))

  it('lines of ordinates after an x are one spectrum', () => {
    const lines = Array.from({ length: 10 }, (_, k) =>
      [grid[4 * k], ...values.slice(4 * k, 4 * k + 4)].join(' '),
    )
    const text = head(
      `##XUNITS= NANOMETERS\n##YUNITS= COUNTS\n##XFACTOR= 1\n##YFACTOR= 0.5\n##FIRSTX= 400\n##LASTX= 790\n##NPOINTS= 40\n##XYDATA= (X++(Y..Y))\n${lines.join('\n')}\n##END=\n`,
    )
    const { spectra, preview } = taken(text)
    expect(preview.format).toBe('JCAMP-DX')
    expect(spectra).toHaveLength(1)
    expect(spectra[0]!.wavelengthNm).toEqual(grid)
    expect(spectra[0]!.signal).toEqual(values.map((value) => value / 2))
    expect(spectra[0]!.name).toBe('glow (COUNTS)')
  })

  it('pairs are read, and wavenumbers turned round', () => {
    const pairs = grid.map((nm) => `${(1e7 / nm).toFixed(5)}, ${signalAt(nm)}`).join('\n')
    const { spectra } = taken(head(`##XUNITS= 1/CM\n##XYPOINTS= (XY..XY)\n${pairs}\n##END=`))
    spectra[0]!.wavelengthNm.forEach((nm, i) => {
      expect(Math.abs(nm - grid[i]!)).toBeLessThan(0.001)
    })
  })

  it('the compressed forms say the same as the plain one', () => {
    // McDonald & Wilks 1988, table VIII, from memory: the same ordinates in every form.
    const plain = '1 2 3 3 2 1 0 -1 -2 -3'
    const y = plain.split(' ').map(Number)
    const forms = {
      fixed: `599 ${plain}`,
      packed: '599+1+2+3+3+2+1+0-1-2-3',
      squeezed: '599ABCCBA@abc',
      difference: '599AJJ%jjjjjj',
      duplicated: '599AJT%jX',
    }
    for (const [form, line] of Object.entries(forms)) {
      const text = head(
        `##XUNITS= NANOMETERS\n##FIRSTX= 599\n##LASTX= 608\n##XYDATA= (X++(Y..Y))\n${line}\n##END=`,
      )
      expect(taken(text).spectra[0]!.signal, form).toEqual(y)
    }
  })

  it('a lost ordinate stays lost where it is repeated or goes on by a difference', () => {
    // McDonald & Wilks 1988, 5.8: "?" for an ordinate that is not there.
    for (const line of ['599AB?TCDEFGHIA', '599AJ?JCDEFGHIA']) {
      const text = head(
        `##XUNITS= NANOMETERS\n##FIRSTX= 599\n##LASTX= 610\n##XYDATA= (X++(Y..Y))\n${line}\n##END=`,
      )
      const { wavelengthNm, signal } = taken(text).spectra[0]!
      expect(wavelengthNm, line).toEqual([599, 600, 603, 604, 605, 606, 607, 608, 609, 610])
      expect(signal, line).toEqual([1, 2, 3, 4, 5, 6, 7, 8, 9, 1])
    }
  })

  it('a Raman spectrum is refused by its kind', () => {
    const text = head('##XUNITS= 1/CM\n##XYDATA= (X++(Y..Y))\n200 1 2 3 4\n##END=').replace(
      'UV/VIS',
      'RAMAN',
    )
    expect(refused(text).code).toBe('raman shift')
  })
})

it('IES TM-27 gives wavelength and value of each of its elements', () => {
  const data = grid.map((nm) => `<SpectralData wavelength="${nm}">${signalAt(nm)}</SpectralData>`)
  const text = `<?xml version="1.0"?><IESTM2714 version="1.0"><Header><Description>Bench lamp</Description></Header><SpectralDistribution><SpectralQuantity>irradiance</SpectralQuantity>${data.join('')}</SpectralDistribution></IESTM2714>`
  const { spectra, preview } = taken(text)
  expect(preview.format).toBe('IES TM-27')
  expect(spectra[0]).toMatchObject({ name: 'Bench lamp (irradiance)', wavelengthNm: grid })
})

it.each([
  ['Irradiance (uW/cm^2/nm)', 'power'],
  ['W/m²/nm', 'power'],
  ['mW/nm', 'power'],
  ['PPFD (umol/m2/s/nm)', 'photons'],
  ['Photon flux', 'photons'],
  ['Counts', null],
  ['Wavelength', null],
  ['Warm white', null],
])('%s counts %s', (heading, quantity) => {
  expect(lightQuantity(heading)).toBe(quantity)
})
