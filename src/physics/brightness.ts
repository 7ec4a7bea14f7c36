import { erf } from '../numerics/error-function.ts'
import { greyEmissivity, type SpectralEmissivity } from './emissivity.ts'
import type { Estimate } from './materials.ts'
import { planckRadiance } from './planck.ts'
import { propagateUncertainty, type UncertaintyContribution } from './uncertainty.ts'

/**
 * A channel's sensitivity: relative weight at each wavelength, evenly spaced, to energy, not
 * photons. For one wavelength give one entry.
 */
export interface PassBand {
  readonly wavelengthNm: readonly number[]
  readonly weight: readonly number[]
}

/** Mean spectral radiance of a surface over a band, W sr^-1 m^-3. */
export function bandRadiance(
  band: PassBand,
  temperatureK: number,
  emissivity: SpectralEmissivity = BLACK,
): number {
  let sum = 0
  let weights = 0
  for (const [i, nm] of band.wavelengthNm.entries()) {
    const weight = band.weight[i] ?? 0
    sum += weight * emissivity(nm, temperatureK) * planckRadiance(nm * 1e-9, temperatureK)
    weights += weight
  }
  return sum / weights
}

const BLACK = greyEmissivity(1)
const SECANT_START_K = [1100, 1200] as const

/**
 * The temperature at which a surface has a mean radiance over a band: the brightness temperature for
 * a black one (default), else the true one. Inverse of {@link bandRadiance}, by secants of the log
 * radiance in 1/T, where it is nearly straight.
 *
 * @returns K; 0 for no radiance, NaN where none is found
 */
export function temperatureFromBand(
  band: PassBand,
  radiance: number,
  emissivity: SpectralEmissivity = BLACK,
): number {
  if (!(radiance > 0)) return 0
  const f = (x: number): number => Math.log(bandRadiance(band, 1 / x, emissivity) / radiance)
  let [a, b] = SECANT_START_K.map((kelvin) => 1 / kelvin) as [number, number]
  let fa = f(a)
  for (let i = 0; i < 60; i++) {
    const fb = f(b)
    if (Math.abs(fb) < 1e-13 || fb === fa) return 1 / b
    const next = b - (fb * (b - a)) / (fb - fa)
    a = b
    fa = fb
    // Never past zero: hotter by at most a factor of 3 a step.
    b = Math.max(next, a / 3)
    if (b === a) return 1 / b
  }
  return Number.NaN
}

/** Exposure settings of a picture. */
export interface Exposure {
  readonly exposureSeconds: number
  readonly iso: number
  readonly fNumber: number
}

/** Light gathered by an exposure, in arbitrary units: t ISO / N^2 (ISO 2720, exposure relation). */
export const exposureFactor = ({ exposureSeconds, iso, fNumber }: Exposure): number =>
  (exposureSeconds * iso) / (fNumber * fNumber)

/**
 * Relative standard uncertainty of the ratio of two exposures: none for equal settings; else 5 %,
 * because files state nominal values (1/60 s for 1/64 s) and gain follows ISO only roughly. Common
 * practice.
 */
export function exposureRatioUncertainty(a: Exposure, b: Exposure): number {
  const same = a.exposureSeconds === b.exposureSeconds && a.iso === b.iso && a.fNumber === b.fNumber
  return same ? 0 : 0.05
}

/** Mean linear red of a region with its standard uncertainty, and the settings it was taken with. */
export interface RedLevel {
  readonly level: Estimate
  readonly exposure: Exposure
}

/** A surface: spectral emissivity, and its standard uncertainty as a share of itself. */
export interface Surface {
  readonly emissivity: SpectralEmissivity
  readonly relativeUncertainty: number
}

export interface BrightnessInput {
  /** Camera's red, or any channel's, sensitivity. */
  readonly band: PassBand
  /** How far the band may lie from the true one, nm, standard (cameras differ by some 5 nm). */
  readonly bandShiftNm: number
  readonly glow: RedLevel
  readonly surface: Surface
  /** With the very same surface object the error of its emissivity is common and drops out. */
  readonly reference: RedLevel & { readonly temperature: Estimate; readonly surface: Surface }
}

export type BrightnessTerm =
  | 'level'
  | 'reference level'
  | 'reference temperature'
  | 'exposure'
  | 'emissivity'
  | 'reference emissivity'
  | 'band'

export interface BrightnessTemperature {
  /** Temperature of the black body as bright in this band, K. */
  readonly brightnessTemperatureK: number
  readonly temperatureK: number
  readonly standardUncertaintyK: number
  /** Largest first, K. */
  readonly contributions: readonly UncertaintyContribution<BrightnessTerm>[]
}

/**
 * Temperature from the level of one channel against a reference of known temperature: the same
 * camera, lens and place in the picture, exposures scaled by their settings. Blind to tint; needs
 * the emissivities of both surfaces and a region that the glow fills.
 *
 * @returns undefined where a level or an exposure is not above 0
 */
export function brightnessTemperatureFromLevel(
  input: BrightnessInput,
): BrightnessTemperature | undefined {
  const { band, glow, surface, reference } = input
  const positive = [
    glow.level.value,
    reference.level.value,
    exposureFactor(glow.exposure),
    exposureFactor(reference.exposure),
    reference.temperature.value,
  ]
  if (!positive.every((value) => value > 0 && Number.isFinite(value))) return undefined
  const nominalExposure = exposureFactor(reference.exposure) / exposureFactor(glow.exposure)
  const radianceOf = ([
    level,
    referenceLevel,
    kelvin,
    exposure,
    ,
    e2,
    shift,
  ]: readonly number[]) => {
    const ratio = (level! / referenceLevel!) * nominalExposure * exposure!
    const known = bandRadiance(shifted(band, shift!), kelvin!, reference.surface.emissivity)
    return ratio * e2! * known
  }
  const model = (values: readonly number[]): number => {
    const radiance = radianceOf(values) / values[4]!
    return temperatureFromBand(shifted(band, values[6]!), radiance, surface.emissivity)
  }
  const ofEmissivity = (of: Surface): number =>
    reference.surface === surface ? 0 : of.relativeUncertainty
  const inputs = [
    { code: 'level', ...glow.level, least: glow.level.value / 100 },
    { code: 'reference level', ...reference.level, least: reference.level.value / 100 },
    { code: 'reference temperature', ...reference.temperature },
    {
      code: 'exposure',
      value: 1,
      standardUncertainty: exposureRatioUncertainty(glow.exposure, reference.exposure),
    },
    { code: 'emissivity', value: 1, standardUncertainty: ofEmissivity(surface), least: 0.05 },
    {
      code: 'reference emissivity',
      value: 1,
      standardUncertainty: ofEmissivity(reference.surface),
      least: 0.05,
    },
    { code: 'band', value: 0, standardUncertainty: input.bandShiftNm },
  ] as const
  const result = propagateUncertainty<BrightnessTerm>(model, inputs)
  const radiance = radianceOf(inputs.map(({ value }) => value))
  return {
    brightnessTemperatureK: temperatureFromBand(band, radiance),
    temperatureK: result.value,
    standardUncertaintyK: result.standardUncertainty,
    contributions: result.contributions,
  }
}

const shifted = (band: PassBand, nm: number): PassBand =>
  nm === 0 ? band : { ...band, wavelengthNm: band.wavelengthNm.map((at) => at + nm) }

/**
 * How many kelvin hotter than the reading before, from the ratio of levels alone: same object,
 * camera, place and surface, so that emissivity and camera drop out.
 *
 * @param ratio level now / level before, exposures already allowed for, > 0
 * @param before the earlier temperature; its uncertainty enters only weakly
 */
export function hotterThanBefore(band: PassBand, before: Estimate, ratio: Estimate): Estimate {
  const { value, standardUncertainty } = propagateUncertainty(
    ([t, r]) => temperatureFromBand(band, r! * bandRadiance(band, t!)) - t!,
    [
      { code: 'before', ...before },
      { code: 'ratio', ...ratio, least: ratio.value / 100 },
    ],
  )
  return { value, standardUncertainty }
}

/**
 * Share of its true level that the middle of a glowing strip keeps under blur: erf(width / (2 sqrt 2
 * sigma)) for a Gaussian blur of the given full width at half maximum.
 *
 * @param widthPixels width of the strip, pixels; 0 gives 0
 * @param blurPixels full width at half maximum, pixels; 0 gives 1
 */
export function levelUnderBlur(widthPixels: number, blurPixels: number): number {
  if (!(widthPixels > 0)) return 0
  if (!(blurPixels > 0)) return 1
  const sigma = blurPixels / (2 * Math.sqrt(2 * Math.log(2)))
  return erf(widthPixels / (2 * Math.SQRT2 * sigma))
}

/** Warn below: 2 % of the level is 1.3 K at 900 °C. A strip twice as wide as the blur keeps 98 %. */
export const LEAST_LEVEL_UNDER_BLUR = 0.98
