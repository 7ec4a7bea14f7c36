import type { TableFault } from '../../estimate/spectrum/measured-window.ts'
import type { TransmissionUnit } from '../../light/spectrum-import/transmission-unit.ts'
import type { Notice } from './estimate.ts'
import { stretchWords } from './spectrum.ts'

/** A window that is known by a measured table of its transmission. */
export const WINDOW_TABLE_WORDS = {
  name: 'Measured: a table of its transmission',
  section: 'Transmission of the window',
  open: 'Open its transmission table',
  another: 'Another table',
  hint: 'Text or CSV: wavelength, then transmission, over the trusted range at least. A loss alike at all wavelengths needs none.',
  column: 'Column',
  unit: 'Transmission in',
  uncertainty: 'Its ±, % of the light',
  uncertaintyHint: '1 standard uncertainty of each value; 0.5 is usual for small instruments.',
} as const

export const windowUnitWords: Record<TransmissionUnit, string> = {
  share: '0 to 1',
  percent: 'Percent',
}

const percent = (share: number) => `${(100 * share).toFixed(1)} %`
const place = (nm: number) => `${nm.toFixed(0)} nm`

/** Why there is no temperature through this window, and what to do. */
export function windowFaultNotice(
  fault: TableFault | { readonly code: 'no table' | 'no uncertainty' },
): Notice {
  switch (fault.code) {
    case 'no table':
      return {
        weight: 'note',
        title: 'No transmission table yet',
        todo: 'Open the table of the glass in front, or choose something else there.',
      }
    case 'no uncertainty':
      return {
        weight: 'note',
        title: 'How good is the transmission table?',
        todo: 'State its ±, 0 to 30 % of the light.',
      }
    case 'does not cover':
      return {
        weight: 'stop',
        title: `The table covers ${stretchWords(fault.table)} only`,
        todo: `${stretchWords(fault.used)} is trusted and must be covered. Open a longer table, or set the range by hand in step 1.`,
      }
    case 'over one':
      return {
        weight: 'stop',
        title: `Transmission of ${percent(fault.value)} at ${place(fault.atNm)}`,
        todo: 'No glass passes more than 100 %. Check shares against percent, and the column; else measure it against an empty holder again.',
      }
    case 'below zero':
      return {
        weight: 'stop',
        title: `Negative transmission, ${percent(fault.value)} at ${place(fault.atNm)}`,
        todo: 'A pane cannot pass less than nothing. Check the column and the zero of the measurement, or set the range by hand to leave it out.',
      }
    case 'too dark':
      return {
        weight: 'stop',
        title: `Only ${percent(fault.value)} passes at ${place(fault.atNm)}`,
        todo: 'That is less than three times its ±: nothing to divide by. State a smaller ± if it is that good, or set the range by hand to leave it out.',
      }
  }
}
