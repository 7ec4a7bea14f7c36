import { tabulate } from './arrays.ts'

/**
 * How response, reference and emissivity depart from the model: a smooth function of wavelength in
 * ln(signal), with mean 0, a Gaussian process of Matern's kind with smoothness 3/2.
 */

/**
 * Correlation length, nm: the least favourable one. For a given size it leaves the temperature most
 * uncertain: shorter errors average out over the range, longer ones become a change of scale.
 * METHODS.md has the table.
 */
export const SHAPE_LENGTH_NM = 120
/** Frequencies up to this many times the inverse length are kept: 99.7 % of the variance. */
const FREQUENCIES = 5
const MOST_FUNCTIONS = 32

/** A basis of independent coefficients, each normal with mean 0. */
export interface ShapeBasis {
  /** One a coefficient, at every place. */
  readonly functions: readonly Float64Array[]
  /** Standard deviation of each coefficient for a process of standard deviation 1. */
  readonly deviation: Float64Array
}

/**
 * Sines on a domain wider than the data by one correlation length on either side, with the spectral
 * density of the process as variances.
 *
 * @param nm places, rising, at least one
 * @param lengthNm correlation length, > 0
 * Source: Solin & Sarkka 2020 (Stat. Comput. 30, 419), eq. 8 and 9; spectral density of the Matern
 *   class with smoothness 3/2: Rasmussen & Williams 2006, eq. 4.15.
 */
export function shapeBasis(nm: ArrayLike<number>, lengthNm = SHAPE_LENGTH_NM): ShapeBasis {
  const from = nm[0]! - lengthNm
  const width = nm[nm.length - 1]! + lengthNm - from
  const kappa = Math.sqrt(3) / lengthNm
  const count = Math.min(MOST_FUNCTIONS, Math.ceil((FREQUENCIES * kappa * width) / Math.PI))
  const frequency = (k: number) => ((k + 1) * Math.PI) / width
  const norm = Math.sqrt(2 / width)
  return {
    functions: Array.from({ length: count }, (_, k) =>
      tabulate(nm.length, (i) => norm * Math.sin(frequency(k) * (nm[i]! - from))),
    ),
    deviation: tabulate(count, (k) =>
      Math.sqrt((4 * kappa ** 3) / (kappa ** 2 + frequency(k) ** 2) ** 2),
    ),
  }
}

/** Sizes of the departures from the model, relative standard deviations. */
export interface ShapeSizes {
  /** Of the smooth process. */
  readonly smooth: number
  /** Of what is left within a bin's width: fringes, pixels, wavelength jitter. */
  readonly fine: number
}

/** Prior of the sizes: medians of lognormal distributions. */
export type ShapePrior = ShapeSizes

/**
 * Reference and glow by one instrument. Small array instruments repeat their calibration to 1 to 2 %
 * (common practice), rough surfaces follow a straight slope to about as much.
 */
export const SAME_INSTRUMENT: ShapePrior = { smooth: 0.016, fine: 0.002 }
/** A maker's calibration: lamp, transfer and ageing, 3 to 4 % (common practice). */
export const MAKERS_CALIBRATION: ShapePrior = { smooth: 0.03, fine: 0.005 }
/** Two instruments: each with its own filter, grating, fibre and fringes. METHODS.md has the pairs. */
export const OTHER_INSTRUMENT: ShapePrior = { smooth: 0.1, fine: 0.01 }
/**
 * A slope that nobody stated hides behind the temperature: of what it is per 100 nm a fit sees a
 * fifth, as curvature. So where the departure seen is beyond what is usual, five times the excess
 * is left open as a slope. METHODS.md has the table.
 */
const SLOPE_BEHIND_BOW = 5
/** Sizes up to this many times the median are nothing unusual. */
const USUAL_EXCESS = 1.5

/** Standard uncertainty of a slope per 100 nm that nobody stated, for a size of the departures. */
export const hiddenSlope = (sizes: ShapeSizes, prior: ShapePrior): number =>
  SLOPE_BEHIND_BOW * Math.max(0, sizes.smooth - USUAL_EXCESS * prior.smooth)

/** Standard deviation of the logarithm of a size: a factor of two either way. */
export const SIZE_SPREAD = Math.LN2
