/** One spectrum as an instrument gave it: plain JSON, ready to be kept. */
export interface Spectrum {
  /** From a column heading; null when the text gave none. */
  readonly name: string | null
  /** Wavelength in air, nm, strictly ascending. */
  readonly wavelengthNm: readonly number[]
  /** Signal, any linear unit (counts), one per wavelength; finite, may be negative. */
  readonly signal: readonly number[]
  /** How the text writes the integration time, numbers as "#"; absent where it does not. */
  readonly integration?: string | undefined
}

/** Fewer samples than this carry no shape. */
export const MIN_ROWS = 8
/** More in one text are refused. */
export const MAX_SPECTRA = 256

export function isFlat(signal: readonly number[]): boolean {
  return signal.every((value) => value === signal[0])
}
