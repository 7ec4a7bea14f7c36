import type { SteelClass } from './fixed-points.ts'
import { MATERIALS } from './materials.data.ts'
import {
  TUNGSTEN_EMISSIVITY_UNCERTAINTY,
  TUNGSTEN_LOG_RATIO_UNCERTAINTY,
  tungstenLogEmissivityRatio,
  tungstenSpectralEmissivity,
  tungstenTotalEmissivity,
} from './tungsten.ts'

export { MATERIALS }

/** Stable names of surfaces; stored in readings, so never renamed. */
export type MaterialId =
  | 'steel-oxidised'
  | 'steel-clean'
  | 'stainless-oxidised'
  | 'cast-iron-oxidised'
  | 'fecral-oxidised'
  | 'nickel-chromium-oxidised'
  | 'nickel-chromium-iron-oxidised'
  | 'nickel-oxidised'
  | 'copper-oxidised'
  | 'tungsten-bare'
  | 'ceramic'
  | 'cavity'
  | 'grey-body'
  | 'nickel-clean'
  | 'platinum-clean'
  | 'copper-clean'
  | 'silver-clean'
  | 'gold-clean'

/**
 * What a surface does to a colour reading, most important first; each becomes one sentence.
 * - colour neutral: as bright in green as in red within the stated spread, no correction
 * - colour reads hot: emissivity falls towards the red; corrected where the slope is known
 * - colour reads hot slope unknown: the same, but nobody can say by how much: wider uncertainty
 * - colour unusable: so steep that a colour reading is hundreds of kelvin hot
 * - loose scale reads cold: flakes are cooler than the metal; brush first
 * - fire light adds: in a fire or by flames the surface mirrors them
 * - cavity is black: a hole or closed kiln hides the surface's own emissivity
 * - bright surface mirrors: reflects lamps and flames strongly
 * - oxide changes: the skin grows or changes at heat, readings drift
 * - transparent skin: the oxide is thin and glassy, emissivity depends on its thickness
 * - coil inside brighter: the inside of a coil is closer to black than its outside
 */
export type SurfaceEffect =
  | 'colour neutral'
  | 'colour reads hot'
  | 'colour reads hot slope unknown'
  | 'colour unusable'
  | 'loose scale reads cold'
  | 'fire light adds'
  | 'cavity is black'
  | 'bright surface mirrors'
  | 'oxide changes'
  | 'transparent skin'
  | 'coil inside brighter'

/** What working with a surface can bring; words with their sources stand in the safety statements. */
export type SurfaceHazard = 'live parts' | 'coatings' | 'hot glass' | 'kiln' | 'melt'

/** A published or common-practice number with its standard uncertainty and where it is from. */
export interface SourcedValue {
  readonly value: number
  readonly standardUncertainty: number
  readonly source: string
}

/** A spectral emissivity at one wavelength. */
export interface SpectralPoint extends SourcedValue {
  readonly wavelengthNm: number
}

/** A total hemispherical emissivity at one temperature. */
export interface TotalPoint extends SourcedValue {
  readonly temperatureK: number
}

/** Where a material begins to melt and is wholly molten, K. */
export interface MeltingRange {
  readonly solidusK: number
  readonly liquidusK: number
  readonly source: string
}

export interface ServiceLimit {
  readonly temperatureK: number
  /** The air or gas in which this holds. */
  readonly atmosphere: 'air' | 'vacuum or inert'
  readonly source: string
}

/** A glowing surface: everything that the estimate needs to know about it. */
export interface Material {
  readonly id: MaterialId
  /** Plain trade name. */
  readonly name: string
  /** Spectral emissivity, rising wavelength, at least green (550 nm) and red (650 nm). */
  readonly spectral: readonly SpectralPoint[]
  /** ln(emissivity at 550 nm / at 650 nm); 0 where no slope is known. */
  readonly logEmissivityRatioGreenRed: SourcedValue
  /** Total hemispherical emissivity, rising temperature; empty where none is sourced. */
  readonly total: readonly TotalPoint[]
  readonly melting?: MeltingRange
  readonly service?: ServiceLimit
  /** Carbon classes, with their magnet and arrest points, that a piece of this can have. */
  readonly steelClasses?: readonly SteelClass[]
  readonly effects: readonly SurfaceEffect[]
  /** Empty where the surface itself brings none. */
  readonly hazards: readonly SurfaceHazard[]
}

const BY_ID = new Map(MATERIALS.map((material) => [material.id, material]))

/** The material with this id; an unknown id (from a newer export) gives undefined. */
export const materialById = (id: string): Material | undefined => BY_ID.get(id as MaterialId)

/** A value with its standard uncertainty. */
export interface Estimate {
  readonly value: number
  readonly standardUncertainty: number
}

/**
 * Spectral emissivity of a surface.
 *
 * @param wavelengthNm 360..830 nm; between the known points linear, beyond them held
 * @param temperatureK K; only tungsten's model depends on it
 */
export function spectralEmissivity(
  material: Material,
  wavelengthNm: number,
  temperatureK: number,
): Estimate {
  if (material.id === 'tungsten-bare')
    return {
      value: tungstenSpectralEmissivity(wavelengthNm, temperatureK),
      standardUncertainty: TUNGSTEN_EMISSIVITY_UNCERTAINTY,
    }
  return interpolate(material.spectral, wavelengthNm, (point) => point.wavelengthNm)
}

/**
 * Total hemispherical emissivity for a heat balance; undefined where none is sourced.
 * Beyond the sourced temperatures the last value is held.
 */
export function totalEmissivity(material: Material, temperatureK: number): Estimate | undefined {
  if (material.id === 'tungsten-bare')
    return { value: tungstenTotalEmissivity(temperatureK), standardUncertainty: 0.01 }
  if (material.total.length === 0) return undefined
  return interpolate(material.total, temperatureK, (point) => point.temperatureK)
}

/**
 * ln(emissivity in green / emissivity in red): what a colour reading must allow for. Multiplied by
 * T^2 / (c2 (1/green - 1/red)) it is the error of the temperature in K.
 *
 * @param greenNm, redNm effective wavelengths of the two channels at this glow. They enter for
 *   tungsten only; elsewhere the slope is not known, and the stated spread is that between the
 *   two channels whatever their effective wavelengths
 */
export function logEmissivityRatio(
  material: Material,
  temperatureK: number,
  greenNm = 550,
  redNm = 650,
): Estimate {
  if (material.id === 'tungsten-bare')
    return {
      value: tungstenLogEmissivityRatio(greenNm, redNm, temperatureK),
      standardUncertainty: TUNGSTEN_LOG_RATIO_UNCERTAINTY,
    }
  const { value, standardUncertainty } = material.logEmissivityRatioGreenRed
  return { value, standardUncertainty }
}

/** False for surfaces whose colour says nothing about their temperature (clean copper, gold). */
export const colourIsUsable = (material: Material): boolean =>
  !material.effects.includes('colour unusable')

function interpolate<P extends SourcedValue>(
  points: readonly P[],
  at: number,
  abscissa: (point: P) => number,
): Estimate {
  const above = points.findIndex((point) => abscissa(point) >= at)
  const b = points[above === -1 ? points.length - 1 : above]!
  const a = above <= 0 ? b : points[above - 1]!
  const span = abscissa(b) - abscissa(a)
  const share = span > 0 && above > 0 ? (at - abscissa(a)) / span : 0
  return {
    value: a.value + share * (b.value - a.value),
    standardUncertainty:
      a.standardUncertainty + share * (b.standardUncertainty - a.standardUncertainty),
  }
}
