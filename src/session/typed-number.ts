/**
 * A number as people type it: decimal comma or point, blanks around it, a sign. Null where it is
 * none; thousands are not taken apart, for nobody can tell "1,200" from 1.2.
 */
export function typedNumber(text: string): number | null {
  const plain = text.trim().replace('−', '-').replace(',', '.')
  if (!/^[+-]?(\d+\.?\d*|\.\d+)$/.test(plain)) return null
  return Number(plain)
}

/** The same for a field: at most so many decimals, no trailing zeros. */
export function numberText(value: number | null | undefined, decimals: number): string {
  return value === null || value === undefined ? '' : String(Number(value.toFixed(decimals)))
}

/** A measured value with its standard uncertainty, both as typed; null while one is missing. */
export interface TypedMeasure {
  readonly value: number | null
  readonly plusMinus: number | null
}
