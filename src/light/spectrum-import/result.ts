import type { Delimiter } from './layout.ts'
import type { DecimalMark } from './number.ts'
import type { BadLine, TextLine } from './rows.ts'
import type { Spectrum } from './spectrum.ts'
import type { Direction, Gap } from './tidy.ts'
import type { WavelengthUnit } from './unit.ts'

/** What a person may fix in the preview when the guess is wrong. */
export interface ImportChoices {
  readonly delimiter?: Delimiter
  readonly decimalMark?: DecimalMark
  readonly unit?: WavelengthUnit
}

export type RefusalCode =
  | 'empty'
  /** Over 16 million characters, 256 columns or 256 spectra. */
  | 'too large'
  /** Control characters: a picture, an archive, a spreadsheet file. */
  | 'not text'
  | 'no numbers'
  | 'one column only'
  /** Comma between columns and inside numbers. */
  | 'comma twice'
  | 'mostly unreadable'
  | 'too few rows'
  | 'wavelength unit unknown'
  /** Counted from a laser's line: no wavelengths of a glow. */
  | 'raman shift'
  /** In known units, but not of 150 to 2600 nm. */
  | 'wavelengths out of range'
  /** The first column counts 0, 1, 2... or 1, 2, 3...: no wavelengths. */
  | 'pixel numbers'
  /** All signals alike. */
  | 'no signal'

export interface ImportRefusal {
  readonly ok: false
  readonly code: RefusalCode
  /** The line to look at, counted from 1; null when it is the whole text. */
  readonly line: number | null
  /** The beginning of that line. */
  readonly text: string | null
  readonly badLines: BadLines | null
}

export interface BadLines {
  readonly count: number
  /** The first twenty of them. */
  readonly first: readonly BadLine[]
}

export type ImportFinding =
  | { readonly code: 'descending' }
  | { readonly code: 'unsorted' }
  | { readonly code: 'index column left out' }
  /** Wavenumbers, energies or other units were turned into nanometres. */
  | { readonly code: 'axis converted'; readonly from: WavelengthUnit }
  /** Cells that hold no value, such as NaN. */
  | { readonly code: 'cells without value'; readonly count: number }
  | { readonly code: 'unit of heading disagrees'; readonly heading: WavelengthUnit }
  /** Blocks and signal columns counted from 1. */
  | { readonly code: 'flat column left out'; readonly block: number; readonly column: number }
  /** `spectrum` is the place in the list of spectra, from 0, here and below. */
  | { readonly code: 'repeated wavelengths'; readonly spectrum: number; readonly count: number }
  | { readonly code: 'gaps'; readonly spectrum: number; readonly gaps: readonly Gap[] }

/** How a text is written. */
export type TextFormat = 'columns' | 'rows' | 'JCAMP-DX' | 'IES TM-27'

export interface TextPreview {
  readonly format: TextFormat
  readonly delimiter: Delimiter
  readonly decimalMark: DecimalMark
  readonly unit: WavelengthUnit
  readonly direction: Direction
  /** Rows of numbers that were taken. */
  readonly rows: number
  /** Blocks one below another, and columns of signal side by side. */
  readonly blocks: number
  readonly signalColumns: number
  readonly headings: { readonly count: number; readonly first: readonly TextLine[] }
  readonly badLines: BadLines
}

export interface ImportedSpectra {
  readonly ok: true
  readonly spectra: readonly Spectrum[]
  readonly preview: TextPreview
  readonly findings: readonly ImportFinding[]
}

export type ImportResult = ImportedSpectra | ImportRefusal
