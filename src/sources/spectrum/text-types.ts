/**
 * How spectra as text are named and typed: for pickers, and for the share sheet. Phones give CSV
 * files the last two types too, as the spreadsheet programs on them have asked for.
 */
export const SPECTRUM_TEXT_TYPES: readonly string[] = [
  '.csv',
  '.txt',
  '.tsv',
  '.dat',
  '.asc',
  '.jdx',
  '.dx',
  '.jcamp',
  '.spdx',
  '.xml',
  'text/plain',
  'text/csv',
  'text/tab-separated-values',
  'text/comma-separated-values',
  'application/csv',
]

/** Is this file, by its name or type, text that may hold spectra? */
export function isSpectrumText({ name, type }: { name: string; type: string }): boolean {
  const lower = name.toLowerCase()
  const bare = type.toLowerCase().split(';', 1)[0]!.trim()
  return SPECTRUM_TEXT_TYPES.some((one) =>
    one.startsWith('.') ? lower.endsWith(one) : bare === one,
  )
}
