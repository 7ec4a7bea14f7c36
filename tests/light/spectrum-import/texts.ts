/** Texts of spectra, and what becomes of them. */
import { importSpectra } from '../../../src/light/spectrum-import/import-spectra.ts'
import type { ImportedSpectra } from '../../../src/light/spectrum-import/result.ts'

export const grid = Array.from({ length: 40 }, (_, i) => 400 + 10 * i)
export const signalAt = (nm: number) => 1 + (nm - 400) ** 2 / 1000

export function written(
  options: { delimiter?: string; comma?: boolean; scale?: number; digits?: number } = {},
): string {
  const { delimiter = ',', comma = false, scale = 1, digits = 4 } = options
  const show = (value: number) => {
    const text = value.toFixed(digits)
    return comma ? text.replace('.', ',') : text
  }
  return grid.map((nm) => show(nm * scale) + delimiter + show(signalAt(nm))).join('\n')
}

export function taken(
  text: string,
  ...rest: [Parameters<typeof importSpectra>[1]?]
): ImportedSpectra {
  const result = importSpectra(text, ...rest)
  if (!result.ok) throw new Error(`refused: ${JSON.stringify(result)}`)
  return result
}

export function refused(text: string) {
  const result = importSpectra(text)
  if (result.ok) throw new Error(`taken: ${JSON.stringify(result.preview)}`)
  return result
}
