export type DecimalMark = '.' | ','

/** Longer fields are no numbers; the limit bounds the work. */
const MAX_LENGTH = 64
const NUMBER: Record<DecimalMark, RegExp> = {
  '.': /^\s*"?\s*([+−-]?)(\d+\.?\d*|\.\d+)(e[+-]?\d+)?\s*"?\s*$/i,
  ',': /^\s*"?\s*([+−-]?)(\d+,?\d*|,\d+)(e[+-]?\d+)?\s*"?\s*$/i,
}

/**
 * A number as instruments write it: optional sign (hyphen or U+2212), digits with one decimal mark,
 * optional exponent, blanks and double quotes around it allowed. No thousands marks.
 *
 * @returns NaN for anything else, also for "NaN", "inf" and values that overflow
 * @example parseNumber(' "-1,5e3" ', ',') // -1500
 */
export function parseNumber(field: string, mark: DecimalMark): number {
  if (field.length > MAX_LENGTH) return Number.NaN
  const parts = NUMBER[mark].exec(field)
  if (parts === null) return Number.NaN
  const digits = mark === ',' ? parts[2]!.replace(',', '.') : parts[2]!
  const value = Number(digits + (parts[3] ?? ''))
  if (!Number.isFinite(value)) return Number.NaN
  return parts[1] === '' || parts[1] === '+' ? value : -value
}
