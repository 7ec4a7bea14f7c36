import type {
  Distrust,
  InstrumentSign,
  SpectrumFinding,
  SpectrumLamp,
  SpectrumTerm,
  WavelengthRange,
} from '../../estimate/spectrum/types.ts'
import { showPlusMinus } from '../temperature.ts'
import type { Notice } from './estimate.ts'

export const SPECTRUM_STEPS = { instrument: '1 Instrument', glow: '2 Glow' } as const

/** How to take spectra that can be used; shown before the first one. */
export const SPECTRUM_GUIDE: readonly string[] = [
  'Record a reference: a filament lamp, a furnace, a melting salt, anything hot of known temperature. No LED.',
  'Shut the light out and record once more: the dark.',
  'Same slit, fibre and settings for reference and glow. Only the integration time may differ.',
  'Keep both below full scale. Switch off the instrument’s own smoothing.',
]

/** For those who need no reference. */
export const SPECTRUM_CALIBRATED = 'My instrument’s files are calibrated'

/** A figure stays on one line with its unit. */
const unbroken = (figure: string) => figure.replaceAll(' ', '\u00a0')
const nm = (value: number) => unbroken(`${value.toFixed(0)} nm`)
export const stretchWords = ({ fromNm, toNm }: WavelengthRange) =>
  `${fromNm.toFixed(0)} to ${nm(toNm)}`

/** Why the trusted range ends; goes on from "ends at 640 nm: ". */
export const DISTRUST_WORDS: Record<Distrust, string> = {
  'end of data': 'the spectrum ends',
  noise: 'the lamp is lost in noise',
  'stray light': 'stray light weighs too much',
  'steep edge': 'the response is too steep (filter edge)',
  'second order': 'light of half the wavelength mixes in',
  saturated: 'the detector was full',
  glass: 'glass absorbs, each its own way',
  'set by hand': 'set by hand',
}

export const SPECTRUM_TERM_WORDS: Record<SpectrumTerm, string> = {
  noise: 'noise',
  'shape of response and surface': 'shape of response and surface',
  'another instrument': 'another instrument',
  'lamp temperature': 'temperature of the reference',
  'reference surface': 'surface of the reference',
  references: 'references that disagree',
  surface: 'surface',
  'stray light': 'stray light',
  'wavelength scale': 'wavelength scale',
  linearity: 'linearity',
  window: 'glass in front',
}

/** What makes the largest part of the uncertainty smaller. */
export const SPECTRUM_ADVICE: Record<SpectrumTerm, string> = {
  noise: 'Average more scans, or expose longer short of full scale.',
  'shape of response and surface':
    'Record the reference anew with the same set-up, or take one near this heat.',
  'another instrument': 'Record the reference with the instrument of the glow: that is most of it.',
  'lamp temperature':
    'Know the reference better: a lamp by its ohms, a thermocouple by its class, a melt.',
  'reference surface': 'Take a drilled hole, a closed kiln or a lamp as the reference.',
  references: 'Find the reference that is off: look at what each says by itself.',
  surface: 'Read a drilled hole or a closed kiln: they need no surface.',
  'stray light': 'Expose glow and lamp longer, take a dark of each, and shade the fibre.',
  'wavelength scale': 'Check the scale on the mercury line of a fluorescent lamp, 546.1 nm.',
  linearity: 'Record lamp and glow to about the same level.',
  window: 'Read without the glass, or through quartz.',
}

/** What a response was taken with; it holds for nothing else. */
export const RESPONSE_SETTINGS = 'Settings it holds for (slit, fibre, filter)'

/** The source that a response was made from. */
export const EMITTER_WORDS: Record<SpectrumLamp['emitter'], string> = {
  tungsten: 'Filament lamp',
  'black body': 'Black body',
  surface: 'Hot surface',
  calibration: 'The maker’s calibration',
}

/** What a calibrated file counts, per wavelength. */
export const QUANTITY_WORDS = {
  power: 'Power (W, µW/cm²/nm)',
  photons: 'Photons (µmol, photons/s)',
} as const

/** The reference that an instrument is tied to. */
export const REFERENCE_WORDS = {
  title: 'The reference',
  what: 'What it is',
  'black body': 'Drilled hole, kiln or furnace of known temperature',
  surface: 'Hot piece of known temperature',
  calibration: 'None: the file is in units of light',
  by: 'Known by',
  measured: 'Thermocouple, or as typed below',
  counts: 'Its numbers count',
  calibrationHint:
    'For an instrument that its maker calibrated. No reference is needed, but one of your own, near the heat, is worth more.',
  several: 'Read with these too',
  another: 'Another reference beside it',
  beside: 'References put beside',
  takeOut: 'Take it out',
  read: 'Read by a camera: ',
  severalHint:
    'References of the same instrument. Where they disagree the ± grows, and each is told.',
} as const

const OF = { lamp: 'the lamp', glow: 'the glow' } as const

/** By what two recordings differ. */
const SIGN_WORDS: Record<InstrumentSign, string> = {
  wavelengths: 'their wavelengths',
  'number of samples': 'the number of samples',
  headings: 'their headings',
  'size of signal': 'the size of the signal',
  'integration time': 'how the integration time is written',
}

export function spectrumNotice(finding: SpectrumFinding): Notice {
  switch (finding.code) {
    case 'no dark spectrum':
      return {
        weight: 'warn',
        title: `No dark for ${OF[finding.of]}`,
        todo: 'The zero is a guess. Shut the light out, record again with the same settings, and choose it as the dark.',
      }
    case 'dark does not cover':
      return {
        weight: 'warn',
        title: `The dark of ${OF[finding.of]} is shorter than its spectrum`,
        todo: 'Beyond it its end value was taken. Record the dark over the same wavelengths.',
      }
    case 'dark brighter than light':
      return {
        weight: 'stop',
        title: `The dark of ${OF[finding.of]} is brighter than the light`,
        todo: 'Light and dark are probably swapped. Choose them again.',
      }
    case 'saturated':
      return {
        weight: 'warn',
        title: `Full detector in ${OF[finding.of]}, ${stretchWords(finding)}`,
        todo: 'That stretch was left out. Expose less.',
      }
    case 'range wider than found':
      return {
        weight: 'warn',
        title: 'The range set by hand goes beyond the trusted one',
        todo: 'Errors there are not in the ±.',
      }
    case 'lines left out':
      return {
        weight: 'note',
        title: `Lines left out: ${finding.stretches.slice(0, 4).map(stretchWords).join(', ')}`,
        todo: 'No glow has lines: a flame, salt or a room lamp shines in. Shade it if you can.',
      }
    case 'shape misfit':
      return {
        weight: 'warn',
        title: `Response or surface are off by ${(100 * finding.share).toFixed(0)} %`,
        todo: 'The ± holds it. Record the reference anew with the same set-up; smoke and flames do this too.',
      }
    case 'another instrument':
      return {
        weight: 'warn',
        title: 'Reference and glow by two instruments?',
        todo: `They differ in ${finding.signs.map((sign) => SIGN_WORDS[sign]).join(', ')}. The ± was widened for it. Record both with one instrument and the same settings.`,
      }
    case 'references disagree':
      return {
        weight: 'warn',
        title: `References disagree by ${showPlusMinus(finding.spreadK)}`,
        todo: 'More than their own ± explains. What each says stands below; the ± holds it.',
      }
    case 'references left out':
      return {
        weight: 'warn',
        title:
          finding.count === 1
            ? 'A reference was left out'
            : `${finding.count} references were left out`,
        todo: 'Of another instrument, or of other wavelengths: it does not belong to this glow.',
      }
    case 'slope far from prior':
      return {
        weight: 'warn',
        title: 'The surface does not fit the spectrum',
        todo: 'Its slope lies far from what this surface has. Check surface and glass.',
      }
  }
}

/** Where the temperature lies, in the trade's odds. */
export const oddsWords = ([low, high]: readonly [low: string, high: string]) =>
  `19 times in 20 between ${unbroken(low)} and ${unbroken(high)}.`

export const SPECTRUM_FAILURE: Notice = {
  weight: 'stop',
  title: 'The computation broke down',
  todo: 'Reload the page: spectra and choices are kept.',
}

/** Why the raw peak is no temperature, in one sentence. */
export function peakReason(peakNm: number, glowPeakNm: number): string {
  return `That is what Wien’s displacement law makes of the raw peak at ${nm(peakNm)}, but this peak is the instrument’s: the glow’s own lies near ${nm(glowPeakNm)}.`
}

export const SPECTRUM_PLOTS = {
  corrected: { name: 'Corrected, with fit', title: 'Corrected spectrum and fit' },
  raw: { name: 'Raw', title: 'Raw spectrum' },
  response: { name: 'Response', title: 'Response of the instrument' },
  residuals: { name: 'Residuals', title: 'What the fit leaves over' },
  wien: { name: 'Wien’s line', title: 'Wien’s line' },
} as const
export type SpectrumPlotId = keyof typeof SPECTRUM_PLOTS

/** What to look for in each picture. */
export const PLOT_HINTS: Record<SpectrumPlotId, string> = {
  corrected: `The instrument is taken out. The band is noise, ${unbroken('k = 2')}.`,
  raw: 'As recorded. Shaded: not used.',
  response: 'Signal for equal light, largest 1. Shaded: not trusted.',
  residuals:
    'In standard deviations of noise. Good: a level cloud. A bow or a wave: something is off.',
  wien: `A glow lies on a straight line; its slope is the temperature. The band is noise, ${unbroken('k = 2')}.`,
}

export const PLOT_WORDS = {
  wavelength: 'Wavelength, nm',
  signal: 'Signal, counts',
  radiance: 'Radiance, relative',
  response: 'Response, relative',
  residual: 'Residual, standard deviations',
  inverse: '1 / wavelength, 1/µm',
  wien: 'ln (radiance × wavelength⁵)',
  light: 'Light',
  dark: 'Dark',
  corrected: 'Corrected',
  fit: 'Fit',
  line: 'Straight line',
  leftOut: 'not used',
} as const

export const SPECTRUM_EMPTY = {
  noResponse: 'First the instrument: a reference turns its counts into light.',
  noGlow: 'Now the glow: its spectrum, recorded with the same settings.',
  noLamp: 'The response appears here once lamp and spectrum are given.',
  noChromaticity: 'The trusted range covers too little of what the eye sees for a check by colour.',
  noRatio: 'Both wavelengths must lie inside the trusted range, 10 nm apart or more.',
} as const

/** How far two estimates of one light lie apart, in a sentence. */
export function agreementWords(differenceK: number, uncertaintyK: number): string {
  return Math.abs(differenceK) <= 2 * uncertaintyK ? 'agrees with the fit' : 'differs from the fit'
}

/** What references differ by beyond their own ±. */
export const betweenWords = (spreadK: number) =>
  spreadK < 0.5 ? 'no more than their own ±' : `${showPlusMinus(spreadK)} beyond their own`

export const CHECK_WORDS = {
  title: 'Cross-checks',
  more: 'More checks',
  byColour: 'By colour (CIE)',
  notEnoughSeen: 'range too short',
  reference: 'By',
  between: 'References differ by',
  shape: 'Off the model',
  ask: 'Which is which? Choose below.',
} as const
