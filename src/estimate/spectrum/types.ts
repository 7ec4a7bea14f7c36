/**
 * Input and result of an estimate from a spectrum. Everything is plain JSON (finite numbers,
 * strings, null), so that kit and log keep it whole and a later version can compute it again.
 * Codes, no sentences.
 */
import type { Spectrum } from '../../light/spectrum-import/spectrum.ts'

/** One recording: the light, and the same with the light shut out. */
export interface Recording {
  readonly spectrum: Spectrum
  readonly dark: Spectrum | null
}

/** What is known of the instrument besides its response. */
export interface Instrument {
  /**
   * Stray light: even pedestal over the largest signal, root mean square. The maker's figure where
   * there is one; common practice for small instruments 0.001.
   */
  readonly strayShare: number
  /** Standard uncertainty of the wavelength scale, nm. */
  readonly wavelengthUncertaintyNm: number
  /** Standard uncertainty of what the scale moves between lamp and glow, nm. */
  readonly wavelengthDriftNm: number
  /**
   * Bend of the signal against light, as a share at the largest signal: standard uncertainty.
   * Common practice after the maker's own correction 0.005.
   */
  readonly nonlinearity: number
  /**
   * Share of the light at half the wavelength that a grating may add, upper bound; 0 with an
   * order-sorting filter.
   */
  readonly secondOrderShare: number
  /** Signal at which the detector is full, where it is known; plateaus are found in any case. */
  readonly saturationLevel: number | null
}

/** A small grating instrument of which nothing is stated; common practice. */
export const USUAL_INSTRUMENT: Instrument = {
  strayShare: 0.001,
  wavelengthUncertaintyNm: 0.3,
  wavelengthDriftNm: 0.05,
  nonlinearity: 0.005,
  secondOrderShare: 0.1,
  saturationLevel: null,
}

/** What the response rests on: a light whose spectrum is known. */
export type SpectrumLamp = ColourTemperatureSource | HotSurface | Calibration

/** A filament (tungsten's emissivity by wavelength), or a source that is black. */
export interface ColourTemperatureSource {
  readonly emitter: 'tungsten' | 'black body'
  readonly colourTemperatureK: number
  readonly standardUncertaintyK: number
}

/** A surface whose true temperature is known: a thermocouple, a melt, another reading. */
export interface HotSurface {
  readonly emitter: 'surface'
  readonly surface: SpectrumSurface
  readonly temperatureK: number
  readonly standardUncertaintyK: number
}

/** No light at all: the file itself is in units of light, as the maker calibrated the instrument. */
export interface Calibration {
  readonly emitter: 'calibration'
  /** Per wavelength: power (W, uW/cm2/nm) or photons (umol, photons/s). */
  readonly quantity: 'power' | 'photons'
}

/** A glowing surface as a spectrum sees it: only the shape of its emissivity counts. */
export interface SpectrumSurface {
  /** Tungsten's emissivity by wavelength and temperature, or the same at every wavelength. */
  readonly spectral: 'grey' | 'tungsten'
  /**
   * On top of that ln(emissivity at 550 nm / at 650 nm), straight in wavelength: the stated prior.
   * With an uncertainty of 0 the slope is taken as known.
   */
  readonly lnGreenOverRed: number
  readonly standardUncertainty: number
}

/** A pane in front of the glow, by its transmittance at rising wavelengths: over 0, at most 1 and noise. */
export interface SpectrumWindow {
  readonly wavelengthNm: readonly number[]
  readonly transmittance: readonly number[]
  /** Of ln(transmittance at 550 nm / at 650 nm). A loss common to all wavelengths costs nothing. */
  readonly standardUncertainty: number
  /**
   * Standard uncertainty of every value of a measured table, in transmittance; absent: none. Such
   * errors go together over some 100 nm.
   */
  readonly transmittanceUncertainty?: number | undefined
}

/** Why a stretch of wavelengths cannot be trusted. */
export type Distrust =
  /** The spectrum ends. */
  | 'end of data'
  /** Response not above its noise. */
  | 'noise'
  /** Stray light may be a sensible part of the lamp's signal. */
  | 'stray light'
  /** Response changes too fast with wavelength (filter edge). */
  | 'steep edge'
  | 'second order'
  | 'saturated'
  /** Glass absorbs below. */
  | 'glass'
  /** A person has set the end. */
  | 'set by hand'

export interface ExcludedStretch {
  readonly fromNm: number
  readonly toNm: number
  readonly reason: Distrust
}

/** The wavelengths that count, with why they end where they do. */
export interface TrustedRange {
  readonly fromNm: number
  readonly toNm: number
  readonly shortEnd: Distrust
  readonly longEnd: Distrust
  /** Stretches inside that do not count. */
  readonly excluded: readonly ExcludedStretch[]
}

export interface WavelengthRange {
  readonly fromNm: number
  readonly toNm: number
}

export type SpectrumFinding =
  | { readonly code: 'no dark spectrum'; readonly of: 'lamp' | 'glow' }
  | { readonly code: 'dark does not cover'; readonly of: 'lamp' | 'glow' }
  | { readonly code: 'dark brighter than light'; readonly of: 'lamp' | 'glow' }
  | {
      readonly code: 'saturated'
      readonly of: 'lamp' | 'glow'
      readonly fromNm: number
      readonly toNm: number
    }
  /** Part of the range set by hand lies outside the range found. */
  | { readonly code: 'range wider than found' }
  /** Narrow features that no glow has (flame, salt vapour, room lamps), left out of the fit. */
  | { readonly code: 'lines left out'; readonly stretches: readonly WavelengthRange[] }
  /** Response or surface depart from the model by more than is usual: relative, root mean square. */
  | { readonly code: 'shape misfit'; readonly share: number }
  /** Reference and glow do not look recorded by one instrument with the same settings. */
  | { readonly code: 'another instrument'; readonly signs: readonly InstrumentSign[] }
  /** Temperatures by several references differ by more than their uncertainties. */
  | { readonly code: 'references disagree'; readonly spreadK: number }
  /** They share no wavelengths with the glow, or come from another instrument and do not fit it. */
  | { readonly code: 'references left out'; readonly count: number }
  | { readonly code: 'slope far from prior'; readonly standardised: number }

/** By what two recordings differ. */
export type InstrumentSign =
  | 'wavelengths'
  | 'number of samples'
  | 'headings'
  | 'size of signal'
  /** How it is written: another program or another instrument. */
  | 'integration time'

/** Marks of the program that wrote a spectrum. */
export interface RecordedAs {
  readonly heading: string | null
  /** How the integration time is written. */
  readonly integration?: string | undefined
  /** Largest value as written. */
  readonly largest: number
}

/** Prior of an even pedestal, over the largest signal. */
export interface PedestalPrior {
  readonly mean: number
  /** > 0 */
  readonly standardUncertainty: number
}

/** The instrument's own response with all that its use needs. */
export interface InstrumentResponse {
  readonly wavelengthNm: readonly number[]
  /** Signal per radiance, the largest 1; 0 where the lamp gave no signal. */
  readonly response: readonly number[]
  /** Relative standard uncertainty by noise before smoothing, per sample. */
  readonly rawNoise: readonly number[]
  /** The same after smoothing; errors of neighbours then go together. */
  readonly smoothedNoise: readonly number[]
  /** Half-width of the smoothing, nm; 0 where none was needed. */
  readonly smoothingNm: readonly number[]
  /** Largest lamp signal over the signal here: what a pedestal weighs. */
  readonly lampPeakOverSignal: readonly number[]
  readonly lamp: SpectrumLamp
  /** How the reference was written; absent in responses of earlier versions. */
  readonly recordedAs?: RecordedAs | undefined
  readonly instrument: Instrument
  /** Pedestal that was taken off the lamp's signal over its peak: stray light, missing dark. */
  readonly pedestal: PedestalPrior
  readonly range: TrustedRange
  readonly findings: readonly SpectrumFinding[]
}

export type SpectrumRefusalCode =
  | 'no signal'
  /** Fewer than eight samples, or less than 30 nm, that can be trusted. */
  | 'no trusted range'
  | 'lamp temperature out of range'
  | 'no common wavelengths'
  | 'unusable window'
  | 'no fit'
  | NoGlowCode

/** A peak of a corrected spectrum. */
export interface SpectrumPeak {
  readonly atNm: number
  /** Full width at half of its height above the valleys beside it. */
  readonly widthNm: number
  /** Height above the higher valley, as a share of the largest radiance. */
  readonly height: number
}

/** Why a light is called no glow, or surface and model do not belong together. */
export type NoGlowCode =
  /** Emission lines carry a sensible part of the light. */
  | 'lines'
  /** Bands narrower than any glow or response has, or a step. */
  | 'bands'
  /** A broad hump or hollow beyond what response and surface explain. */
  | 'shape'
  /** The slope of emissivity lies beyond 5 standard uncertainties of its prior. */
  | 'slope'
  /** The chromaticity lies off the Planckian locus, or off that of the fit. */
  | 'off the locus'
  /** Short and long half of the spectrum have different temperatures. */
  | 'halves disagree'
  /** Above 4000 K: no solid. */
  | 'hotter than any solid'
  /** White light, and a range that ends where lamps for the eye and glows are still alike. */
  | 'cannot tell from a lamp'
  /** So cold that nothing would reach a detector in this range. */
  | 'too cold to see'

/** What was seen, for the sentence: what it is depends on the code. */
export interface NoGlowEvidence {
  /** Where the light departs from the fit, nm. */
  readonly atNm: readonly number[]
  /** Peaks of the corrected spectrum that no glow has, whatever the fit. */
  readonly peaks?: readonly SpectrumPeak[]
  /** How much: share of the light, relative departure, standard uncertainties, Duv. */
  readonly amount: number
  /** Temperatures that were at odds or out of range, K. */
  readonly temperaturesK: readonly number[]
  /** Hump (+) or hollow (-). */
  readonly sign?: 1 | -1
}

export interface SpectrumRefusal {
  readonly ok: false
  readonly code: SpectrumRefusalCode
  readonly evidence?: NoGlowEvidence
  readonly findings?: readonly SpectrumFinding[]
}

/** Terms of the uncertainty of a temperature from a spectrum. */
export type SpectrumTerm =
  /** Noise of both spectra. */
  | 'noise'
  /** Smooth departures of response and surface from the model. */
  | 'shape of response and surface'
  /** Reference and glow by different instruments. */
  | 'another instrument'
  | 'lamp temperature'
  /** Slope of the reference's emissivity. */
  | 'reference surface'
  /** Slope of the surface's emissivity. */
  | 'surface'
  /** Pedestals of lamp and glow: stray light, dark. */
  | 'stray light'
  | 'wavelength scale'
  | 'linearity'
  | 'window'
  /** What several references differ by, beyond their own uncertainties. */
  | 'references'

export interface SpectrumContribution {
  readonly term: SpectrumTerm
  readonly standardUncertaintyK: number
}
