/** One spectrum as an instrument gave it: plain JSON, ready to be kept. */
export interface Spectrum {
  /** From a column heading; null when the text gave none. */
  readonly name: string | null
  /** Wavelength in air, nm, strictly ascending. */
  readonly wavelengthNm: readonly number[]
  /** Signal, any linear unit (counts), one per wavelength; finite, may be negative. */
  readonly signal: readonly number[]
}
