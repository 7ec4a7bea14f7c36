import { computed, type ReadonlySignal, type Signal, signal } from '@preact/signals'
import { type TableFault, windowFromTable } from '../../estimate/spectrum/measured-window.ts'
import type { SpectrumWindow, WavelengthRange } from '../../estimate/spectrum/types.ts'
import { windowFromMaterial } from '../../estimate/spectrum/windows.ts'
import {
  SHARE_PER_UNIT,
  type TransmissionUnit,
  transmissionUnit,
} from '../../light/spectrum-import/transmission-unit.ts'
import { MEASURED_WINDOW } from '../../physics/windows.ts'
import type { ImportedFiles } from './imported-files.ts'

/** Percent of transmission; common practice for small instruments. */
export const FIRST_TABLE_UNCERTAINTY = 0.5

export type WindowFault = TableFault | { readonly code: 'no table' | 'no uncertainty' }
export type WindowOutcome =
  | { readonly ok: true; readonly window: SpectrumWindow | null }
  | { readonly ok: false; readonly fault: WindowFault }

/** What stands in front of the glow. */
export interface WindowChoice {
  readonly cover: Signal<string>
  /** How the table writes its values; null: as found. */
  readonly unit: Signal<TransmissionUnit | null>
  readonly foundUnit: ReadonlySignal<TransmissionUnit | null>
  /** One standard uncertainty of the table, percent of transmission; null while it is no number. */
  readonly uncertainty: Signal<number | null>
  readonly outcome: ReadonlySignal<WindowOutcome>
}

export function createWindowChoice(
  imported: ImportedFiles,
  used: ReadonlySignal<WavelengthRange | null>,
): WindowChoice {
  const cover = signal('none')
  const unit = signal<TransmissionUnit | null>(null)
  const uncertainty = signal<number | null>(FIRST_TABLE_UNCERTAINTY)
  const table = computed(() => imported.spectrumOf(imported.roles.value.window))
  const foundUnit = computed(
    () => table.value && transmissionUnit(table.value.signal, table.value.name),
  )
  const outcome = computed<WindowOutcome>(() => {
    if (cover.value !== MEASURED_WINDOW)
      return { ok: true, window: windowFromMaterial(cover.value) }
    const written = table.value
    if (!written || !used.value) return { ok: false, fault: { code: 'no table' } }
    if (uncertainty.value === null) return { ok: false, fault: { code: 'no uncertainty' } }
    const share = SHARE_PER_UNIT[unit.value ?? foundUnit.value ?? 'share']
    return windowFromTable(
      {
        wavelengthNm: written.wavelengthNm,
        transmittance: written.signal.map((value) => value * share),
        standardUncertainty: uncertainty.value / 100,
      },
      used.value,
    )
  })
  return { cover, unit, foundUnit, uncertainty, outcome }
}
