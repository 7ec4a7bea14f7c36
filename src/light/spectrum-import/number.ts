export type DecimalMark = '.' | ','

/** Longer fields are no numbers; the limit bounds the work. */
const MAX_LENGTH = 64
/** Thousands are told apart only where the decimal mark stands behind them. */
const NUMBER: Record<DecimalMark, RegExp> = {
  '.': /^\s*"?\s*([+−-]?)(\d{1,3}(?:,\d{3})+\.\d+|\d+\.?\d*|\.\d+)([ed][+-]?\d+)?\s*"?\s*$/i,
  ',': /^\s*"?\s*([+−-]?)(\d{1,3}(?:\.\d{3})+,\d+|\d+,?\d*|,\d+)([ed][+-]?\d+)?\s*"?\s*$/i,
}

/**
 * A number as instruments write it: optional sign (hyphen or U+2212), digits with one decimal mark,
 * optional exponent (E, or D as Fortran writes it), blanks and double quotes around it allowed.
 *
 * @returns NaN for anything else, also for "NaN", "inf" and values that overflow
 * @example parseNumber(' "-1,5e3" ', ',') // -1500
 */
export function parseNumber(field: string, mark: DecimalMark): number {
  if (field.length > MAX_LENGTH) return Number.NaN
  const parts = NUMBER[mark].exec(field)
  if (parts === null) return Number.NaN
  const digits =
    mark === ',' ? parts[2]!.replaceAll('.', '').replace(',', '.') : parts[2]!.replaceAll(',', '')
  const value = Number(digits + (parts[3] ?? '').replace(/d/i, 'e'))
  if (!Number.isFinite(value)) return Number.NaN
  return parts[1] === '' || parts[1] === '+' ? value : -value
}

/** How programs write that there is no value. */
const NO_VALUE =
  /^\s*"?\s*(?:[+-]?nan(?:\([a-z0-9]*\))?|[+-]?1?\.?#?(?:nan|ind|inf)|[+-]?inf(?:inity)?|#?n\/?a!?|null|none|-{1,3}|\*+)?\s*"?\s*$/i

/** A cell that is empty, or says that it is. */
export const isNoValue = (field: string) => field.length <= MAX_LENGTH && NO_VALUE.test(field)

/** A unit behind a number in its cell, as in "380nm". */
const UNIT_BEHIND = /(?:nm|[uµμ]m|å|angstroms?|cm\s*\^?\s*[-−]\s*1|ev)\s*"?\s*$/i

/** A number of the axis, with the unit that stands behind it in the cell; NaN for no number. */
export function axisNumber(field: string, mark: DecimalMark): { value: number; unit: string } {
  const plain = parseNumber(field, mark)
  if (!Number.isNaN(plain) || field.length > MAX_LENGTH) return { value: plain, unit: '' }
  const unit = UNIT_BEHIND.exec(field)
  if (unit === null) return { value: Number.NaN, unit: '' }
  return { value: parseNumber(field.slice(0, unit.index), mark), unit: unit[0] }
}
