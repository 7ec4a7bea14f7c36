import type { SpectrumWindow, WavelengthRange } from './types.ts'
import { mostTransmittance, WITHIN_NOISE } from './windows.ts'

/** A table of transmission as it was measured. */
export interface TransmissionTable {
  /** Strictly rising. */
  readonly wavelengthNm: readonly number[]
  /** Share of the light that passes; finite, but otherwise as the table has it. */
  readonly transmittance: readonly number[]
  /** Standard uncertainty of every value, as a share (0.005: half a percent of transmission). */
  readonly standardUncertainty: number
}

/** Why a table cannot be divided by. */
export type TableFault =
  | {
      readonly code: 'does not cover'
      readonly table: WavelengthRange
      readonly used: WavelengthRange
    }
  /** By more than its uncertainty explains. */
  | { readonly code: 'over one'; readonly atNm: number; readonly value: number }
  | { readonly code: 'below zero'; readonly atNm: number; readonly value: number }
  /** Less than three times its own uncertainty: nothing to divide by. */
  | { readonly code: 'too dark'; readonly atNm: number; readonly value: number }

export type TableResult =
  | { readonly ok: true; readonly window: SpectrumWindow }
  | { readonly ok: false; readonly fault: TableFault }

/**
 * A measured table as a window to divide by. Only what lies in the used range is judged and kept:
 * outside, a pane may be as dark as it likes.
 */
export function windowFromTable(table: TransmissionTable, used: WavelengthRange): TableResult {
  const { wavelengthNm, transmittance, standardUncertainty } = table
  const first = wavelengthNm[0] ?? Number.POSITIVE_INFINITY
  const last = wavelengthNm[wavelengthNm.length - 1] ?? Number.NEGATIVE_INFINITY
  if (!(first <= used.fromNm && last >= used.toNm)) {
    const fault = { code: 'does not cover', table: { fromNm: first, toNm: last }, used } as const
    return { ok: false, fault }
  }
  // With the neighbours outside, between which the ends are interpolated.
  const from = wavelengthNm.findLastIndex((nm) => nm <= used.fromNm)
  const to = wavelengthNm.findIndex((nm) => nm >= used.toNm)
  const window: SpectrumWindow = {
    wavelengthNm: wavelengthNm.slice(from, to + 1),
    transmittance: transmittance.slice(from, to + 1),
    standardUncertainty: 0,
    transmittanceUncertainty: standardUncertainty,
  }
  const fault = faultOf(window, standardUncertainty)
  return fault === null ? { ok: true, window } : { ok: false, fault }
}

function faultOf(window: SpectrumWindow, standardUncertainty: number): TableFault | null {
  for (const [i, value] of window.transmittance.entries()) {
    const atNm = window.wavelengthNm[i]!
    if (value > mostTransmittance(standardUncertainty)) return { code: 'over one', atNm, value }
    if (value < 0) return { code: 'below zero', atNm, value }
    if (value === 0 || value < WITHIN_NOISE * standardUncertainty) {
      return { code: 'too dark', atNm, value }
    }
  }
  return null
}
