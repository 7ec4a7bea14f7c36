import type { Delimiter } from '../../light/spectrum-import/layout.ts'
import type { DecimalMark } from '../../light/spectrum-import/number.ts'
import type {
  ImportFinding,
  ImportRefusal,
  RefusalCode,
} from '../../light/spectrum-import/result.ts'
import type { BadLineReason } from '../../light/spectrum-import/rows.ts'
import type { Direction } from '../../light/spectrum-import/tidy.ts'
import type { WavelengthUnit } from '../../light/spectrum-import/unit.ts'
import type { TextRefusal } from '../../sources/spectrum/decode-text.ts'
import type { Notice } from './estimate.ts'

export const DELIMITER_WORDS: Record<Delimiter, string> = {
  tab: 'Tab',
  semicolon: 'Semicolon ;',
  comma: 'Comma ,',
  blanks: 'Blanks',
}
export const DECIMAL_MARK_WORDS: Record<DecimalMark, string> = {
  '.': 'Point 0.5',
  ',': 'Comma 0,5',
}
export const WAVELENGTH_UNIT_WORDS: Record<WavelengthUnit, string> = {
  nm: 'nm',
  um: 'µm',
  angstrom: 'ångström',
  'per cm': '1/cm (wavenumber)',
  eV: 'eV',
}
export const DIRECTION_WORDS: Record<Direction, string> = {
  ascending: 'rising',
  descending: 'falling; turned round',
  unsorted: 'mixed; sorted',
}

export const BAD_LINE_WORDS: Record<BadLineReason, string> = {
  'no numbers': 'no numbers',
  'too few columns': 'too few columns',
  'too many columns': 'too many columns',
  'wavelength out of range': 'no wavelength of 150 to 2600 nm',
  'far from the rest': 'far from the rest',
}

const REFUSAL_WORDS: Record<RefusalCode, readonly [title: string, todo: string]> = {
  empty: ['The text is empty', 'Save the spectrum again, or choose another file.'],
  'too large': [
    'Too much at once',
    'At most 256 columns and 256 spectra. Save fewer spectra in one file.',
  ],
  'not text': [
    'This is not plain text',
    'Let the instrument’s program save as text or CSV. A spreadsheet: save it as CSV.',
  ],
  'no numbers': ['No rows of numbers', 'Two columns are needed: wavelength and signal.'],
  'one column only': [
    'One column only',
    'The wavelengths are missing. Save wavelength and signal side by side.',
  ],
  'comma twice': [
    'Comma between columns and inside numbers',
    'It cannot be told apart. Save with semicolons, or with decimal points.',
  ],
  'mostly unreadable': [
    'More than half of the lines make no sense',
    'Set columns and decimal mark below, or look at the lines named.',
  ],
  'too few rows': ['Fewer than 8 rows', 'That is no spectrum. Save the whole of it.'],
  'wavelength unit unknown': [
    'In what unit is the first column?',
    'It is not 150 to 2600 nm, and no heading says what it is. Choose the unit below.',
  ],
  'raman shift': [
    'A Raman shift is no wavelength',
    'It counts from a laser’s line. Save the spectrum over wavelength; a glow is recorded without the laser.',
  ],
  'wavelengths out of range': [
    'Not the wavelengths of a glow’s spectrum',
    'They must lie between 150 and 2600 nm. An infrared spectrum in 1/cm lies beyond.',
  ],
  'pixel numbers': [
    'The first column counts pixels',
    'Save with wavelengths instead of pixel numbers.',
  ],
  'no signal': ['All signals are alike', 'Nothing was recorded. Choose another column or file.'],
}

export function importRefusalNotice({ code, line }: ImportRefusal, fileName: string): Notice {
  const [title, todo] = REFUSAL_WORDS[code]
  return {
    weight: 'stop',
    title: `${fileName}: ${title.charAt(0).toLowerCase()}${title.slice(1)}${line === null ? '' : `, line ${line}`}`,
    todo,
  }
}

export function textRefusalNotice(refusal: TextRefusal, fileName: string): Notice {
  switch (refusal.code) {
    case 'file too large':
      return {
        weight: 'stop',
        title: `${fileName} has ${(refusal.bytes / 1e6).toFixed(1)} MB`,
        todo: `At most ${(refusal.allowed / 1e6).toFixed(0)} MB. A spectrum as text is far smaller: is it the right file?`,
      }
    case 'file unreadable':
      return {
        weight: 'stop',
        title: `${fileName} could not be read`,
        todo: 'Was it moved or its card pulled out? Choose it again.',
      }
  }
}

const times = (count: number, word: string) => `${count} ${word}${count === 1 ? '' : 's'}`

/** What was done to a text on the way; null where the preview says it already. */
export function importFindingWords(finding: ImportFinding): string | null {
  switch (finding.code) {
    case 'descending':
    case 'unsorted':
      return null
    case 'axis converted':
      return `Turned from ${WAVELENGTH_UNIT_WORDS[finding.from]} into nm.`
    case 'cells without value':
      return `${times(finding.count, 'cell')} without a value, left out.`
    case 'index column left out':
      return 'A column of running numbers was left out.'
    case 'unit of heading disagrees':
      return `The heading says ${WAVELENGTH_UNIT_WORDS[finding.heading]}; the values do not.`
    case 'flat column left out':
      return `Column ${finding.column + 1} holds one value throughout and was left out.`
    case 'repeated wavelengths':
      return `Spectrum ${finding.spectrum + 1}: ${times(finding.count, 'repeated wavelength')}, averaged.`
    case 'gaps': {
      const first = finding.gaps[0]
      const where = first
        ? `, first from ${first.fromNm.toFixed(0)} to ${first.toNm.toFixed(0)} nm`
        : ''
      return `Spectrum ${finding.spectrum + 1}: ${times(finding.gaps.length, 'gap')}${where}.`
    }
  }
}

export const IMPORT_WORDS = {
  asFound: 'As found',
  local:
    'Text or CSV: wavelength, then signal; also JCAMP-DX and IES TM-27. Files can be dropped or pasted here. They stay on this device.',
} as const
