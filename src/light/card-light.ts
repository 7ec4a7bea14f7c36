import type { Xy } from '../colour/chromaticity.ts'
import { uvPrimeFromXy, xyJacobianFromUvPrime } from '../colour/chromaticity.ts'
import { D50, D50_K, D55, D55_K, D65, D65_K, daylightXy } from '../colour/daylight.ts'
import { colourTemperatureFromXy, planckianXy } from '../colour/planckian-locus.ts'
import { type Matrix2, propagate2 } from '../numerics/matrix3.ts'

/** The light on the grey reference, as a person can state it. */
export type CardLightId =
  | { readonly kind: 'daylight'; readonly illuminant: 'D65' | 'D55' | 'D50' }
  /** Incandescent or halogen lamp by its colour temperature. */
  | {
      readonly kind: 'filament'
      readonly colourTemperatureK: number
      readonly standardUncertaintyK: number
    }
  /** White LED; null: colour temperature not known. */
  | { readonly kind: 'led'; readonly colourTemperatureK: number | null }
  | { readonly kind: 'fluorescent'; readonly colourTemperatureK: number | null }
  /** Measured CIE 1931 chromaticity; one standard uncertainty for x and for y. */
  | {
      readonly kind: 'measured'
      readonly x: number
      readonly y: number
      readonly standardUncertainty: number
    }

/** What the light means for the balance. */
export interface LightColour {
  readonly xy: Xy
  /** Covariance of x and y. */
  readonly covariance: Matrix2
  /** Correlated colour temperature and its standard uncertainty, K. */
  readonly colourTemperatureK: number
  readonly standardUncertaintyK: number
  /**
   * Standard uncertainty of ln G and of ln B against ln R that a camera adds because it sees this
   * kind of spectrum otherwise than the CIE observer.
   */
  readonly spectral: { readonly green: number; readonly blue: number }
}

/**
 * Daylight: what a person calls so wanders along the daylight locus. D65: overcast or north sky;
 * D55: sun with sky; D50: direct sun. Spreads: common practice, about those of Hernández-Andrés
 * et al. 2001 (J. Opt. Soc. Am. A 18, 1325) for each kind of sky, from memory.
 */
const DAYLIGHT = {
  D65: { xy: D65, temperatureK: D65_K, standardUncertaintyK: 500 },
  D55: { xy: D55, temperatureK: D55_K, standardUncertaintyK: 300 },
  D50: { xy: D50, temperatureK: D50_K, standardUncertaintyK: 300 },
} as const

/** Standard uncertainty across the locus, as distance in u', v'. */
const ACROSS = { daylight: 0.002, filament: 0.001, led: 0.004, fluorescent: 0.006 } as const

/** Colour temperature where it was not stated: the middle of what is sold, 2700 to 6500 K. */
const UNSTATED = { temperatureK: 4000, standardUncertaintyK: 900 } as const
/** A stated colour temperature: tolerance of ANSI C78.377 for 4000 K, +-275 K, as half width. */
const STATED_RELATIVE = 0.07 / Math.sqrt(3)

/**
 * How far cameras see a light otherwise than the CIE observer: root mean square of the errors of
 * ln(G/R) and ln(B/R) over 52 measured cameras with a white-preserving matrix for D65 (rawtoaces
 * data, Apache-2.0). Filament: 2700 K. LED: two models of blue emitter and phosphor; green is off by
 * up to 0.18, which is 64 K at 1173 K; rounded up, for phosphors differ. Fluorescent: models of a
 * three-band and a halophosphate lamp, rounded up. Measured: the chromaticity is known, the spectrum
 * is not; as it may be an LED's, the errors of the two models as they are.
 */
const SPECTRAL = {
  daylight: { green: 0.007, blue: 0.01 },
  filament: { green: 0.014, blue: 0.09 },
  led: { green: 0.08, blue: 0.15 },
  fluorescent: { green: 0.1, blue: 0.1 },
  measured: { green: 0.07, blue: 0.13 },
} as const

/**
 * Chromaticity of the light on the card, its uncertainty and what the spectrum adds.
 *
 * @param light a filament lamp from 1500 to 3500 K; an LED or fluorescent lamp from 2000 to 10000 K
 */
export function lightColour(light: CardLightId): LightColour {
  switch (light.kind) {
    case 'daylight': {
      const { xy, temperatureK, standardUncertaintyK } = DAYLIGHT[light.illuminant]
      // The table's chromaticity rather than the polynomial's, which is off by 1e-4 in y.
      return { ...alongLocus(daylightXy, temperatureK, standardUncertaintyK, 'daylight'), xy }
    }
    case 'filament':
      return alongLocus(
        planckianXy,
        light.colourTemperatureK,
        light.standardUncertaintyK,
        'filament',
      )
    case 'led':
    case 'fluorescent': {
      const stated = light.colourTemperatureK
      const temperatureK = stated ?? UNSTATED.temperatureK
      const u = stated === null ? UNSTATED.standardUncertaintyK : STATED_RELATIVE * stated
      // Lamps follow the Planckian locus below 5000 K, daylight above (ANSI C78.377).
      const locus = temperatureK < 5000 ? planckianXy : daylightXy
      return alongLocus(locus, temperatureK, u, light.kind)
    }
    case 'measured':
      return measured(light, light.standardUncertainty)
  }
}

function measured({ x, y }: Xy, standardUncertainty: number): LightColour {
  const variance = standardUncertainty ** 2
  const temperatureK = cct({ x, y })
  const step = 1e-4
  const slope =
    Math.hypot(cct({ x: x + step, y }) - temperatureK, cct({ x, y: y + step }) - temperatureK) /
    step
  const near = Number.isFinite(temperatureK + slope)
  return {
    xy: { x, y },
    covariance: [
      [variance, 0],
      [0, variance],
    ],
    // Too far from the locus to have one: daylight's, with a spread that says so.
    colourTemperatureK: near ? temperatureK : D65_K,
    standardUncertaintyK: near ? slope * standardUncertainty : D65_K / 2,
    spectral: SPECTRAL.measured,
  }
}

function alongLocus(
  locus: (temperatureK: number) => Xy,
  temperatureK: number,
  standardUncertaintyK: number,
  kind: keyof typeof ACROSS,
): LightColour {
  const xy = locus(temperatureK)
  const step = 1e-3 * temperatureK
  const centre = uvPrimeFromXy(xy)
  const further = uvPrimeFromXy(locus(temperatureK + step))
  const [du, dv] = [further.uPrime - centre.uPrime, further.vPrime - centre.vPrime]
  const length = Math.hypot(du, dv)
  const along = (length / step) * standardUncertaintyK
  const [tu, tv] = [du / length, dv / length]
  const across = ACROSS[kind]
  const covarianceUv: Matrix2 = [
    [(along * tu) ** 2 + (across * tv) ** 2, (along ** 2 - across ** 2) * tu * tv],
    [(along ** 2 - across ** 2) * tu * tv, (along * tv) ** 2 + (across * tu) ** 2],
  ]
  return {
    xy,
    covariance: propagate2(xyJacobianFromUvPrime(centre), covarianceUv),
    colourTemperatureK: temperatureK,
    standardUncertaintyK,
    spectral: SPECTRAL[kind],
  }
}

/** Correlated colour temperature; NaN where the colour is too far off to have one. */
function cct(xy: Xy): number {
  const found = colourTemperatureFromXy(xy)
  return found.kind === 'near' ? found.temperatureK : Number.NaN
}
