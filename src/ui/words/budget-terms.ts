import type { SpectrumTerm } from '../../estimate/spectrum/types.ts'
import { TERM_NAMES } from './estimate.ts'
import { ownEntry } from './own-entry.ts'

/** Terms of a temperature from a spectrum. */
const SPECTRUM_TERM_NAMES: Record<SpectrumTerm, string> = {
  noise: 'Noise of the spectra',
  'shape of response and surface': 'Shape of response and surface',
  'another instrument': 'Another instrument',
  'lamp temperature': 'Temperature of the reference',
  'reference surface': 'Surface of the reference',
  references: 'References that disagree',
  surface: TERM_NAMES.surface,
  'stray light': 'Stray light and dark',
  'wavelength scale': 'Wavelength scale',
  linearity: 'Linearity of the detector',
  window: TERM_NAMES.window,
}

/** Terms of budgets that are not those of a glow read by colour. */
const OTHER_TERMS: Readonly<Record<string, string>> = {
  bracket: 'Bracket by eye',
  'naming charts': 'Spread of the naming charts',
  screen: 'This screen’s colours',
  'by hand': 'As entered',
}

const NAMES: Readonly<Record<string, string>> = {
  ...OTHER_TERMS,
  ...SPECTRUM_TERM_NAMES,
  ...TERM_NAMES,
}

/** A term of a stored budget; one that this version does not know keeps its own name. */
export function termName(term: string): string {
  return ownEntry(NAMES, term) ?? term.charAt(0).toUpperCase() + term.slice(1)
}
