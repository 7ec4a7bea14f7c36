import { SECOND_RADIATION_CONSTANT } from '../physics/constants.ts'
import { type Uv, uvFromXy, type Xy, xyFromUv } from './chromaticity.ts'
import {
  OBSERVER_COUNT,
  OBSERVER_WAVELENGTHS_M,
  X_WEIGHTS,
  Y_WEIGHTS,
  Z_WEIGHTS,
} from './observer.ts'

/** Range of the inverse, K. The forward direction has none. */
export const LOCUS_COLDEST_K = 700
export const LOCUS_HOTTEST_K = 20000
/**
 * Largest distance from the locus, CIE 1960 u, v, at which a correlated colour temperature means
 * anything. Source: CIE 15:2018, 9.5.
 */
export const DUV_LIMIT = 0.05

/** A point of the locus with its derivative by reciprocal temperature in mired. */
interface LocusPoint {
  readonly u: number
  readonly v: number
  readonly uByMired: number
  readonly vByMired: number
}

const LAST_WAVELENGTH_M = OBSERVER_WAVELENGTHS_M[OBSERVER_COUNT - 1]!
const INVERSE_FIFTH = OBSERVER_WAVELENGTHS_M.map((wavelength) => 1e-30 / wavelength ** 5)

/**
 * Black body chromaticity by spectral integration. The spectrum is taken relative to the Wien term
 * at 830 nm, so that it never underflows as a whole; below 1 K and above 1e9 K the end value holds.
 */
function locusPoint(temperatureK: number, c2: number): LocusPoint {
  const mired = 1e6 / Math.min(Math.max(temperatureK, 1), 1e9)
  const exponentPerM = c2 * 1e-6 * mired
  const reference = exponentPerM / LAST_WAVELENGTH_M
  let x = 0
  let y = 0
  let z = 0
  let dx = 0
  let dy = 0
  let dz = 0
  for (let i = 0; i < OBSERVER_COUNT; i++) {
    const exponent = exponentPerM / OBSERVER_WAVELENGTHS_M[i]!
    const photon = -Math.expm1(-exponent)
    const value = (INVERSE_FIFTH[i]! * Math.exp(reference - exponent)) / photon
    const slope = (-value * exponent) / (mired * photon)
    x += value * X_WEIGHTS[i]!
    y += value * Y_WEIGHTS[i]!
    z += value * Z_WEIGHTS[i]!
    dx += slope * X_WEIGHTS[i]!
    dy += slope * Y_WEIGHTS[i]!
    dz += slope * Z_WEIGHTS[i]!
  }
  const d = x + 15 * y + 3 * z
  const dd = dx + 15 * dy + 3 * dz
  const u = (4 * x) / d
  const v = (6 * y) / d
  return { u, v, uByMired: (4 * dx - u * dd) / d, vByMired: (6 * dy - v * dd) / d }
}

/**
 * CIE 1960 chromaticity of a black body, by spectral integration over 360..830 nm.
 *
 * @param temperatureK K; below 1 K the red end of the spectrum, above 1e9 K the limit of infinite
 * temperature
 * @param c2 second radiation constant, m K; older tables rest on older values
 */
export function planckianUv(temperatureK: number, c2 = SECOND_RADIATION_CONSTANT): Uv {
  const { u, v } = locusPoint(temperatureK, c2)
  return { u, v }
}

/**
 * CIE 1931 chromaticity of a black body, see {@link planckianUv}.
 *
 * @example planckianXy(1173) // { x: 0.6287, y: 0.3646 }; the glow of 900 °C
 */
export function planckianXy(temperatureK: number, c2 = SECOND_RADIATION_CONSTANT): Xy {
  return xyFromUv(locusPoint(temperatureK, c2))
}

/**
 * The chromaticity at a distance from the locus along the isotherm: the inverse of
 * {@link colourTemperatureFromUv}.
 *
 * @param duv signed distance in CIE 1960 u, v; above 0 towards green (above the locus)
 */
export function uvFromColourTemperature(temperatureK: number, duv = 0): Uv {
  const { u, v, uByMired, vByMired } = locusPoint(temperatureK, SECOND_RADIATION_CONSTANT)
  const length = Math.hypot(uByMired, vByMired)
  return { u: u - (duv * vByMired) / length, v: v + (duv * uByMired) / length }
}

/** The two ends of an isotherm for drawing: below the locus (magenta side), then above it. */
export function isotherm(temperatureK: number, halfLengthDuv: number): readonly [Uv, Uv] {
  return [
    uvFromColourTemperature(temperatureK, -halfLengthDuv),
    uvFromColourTemperature(temperatureK, halfLengthDuv),
  ]
}

/** What a chromaticity says about temperature. */
export type ColourTemperature =
  | { readonly kind: 'near'; readonly temperatureK: number; readonly duv: number }
  /** More than {@link DUV_LIMIT} from the locus: not the colour of a glow. */
  | { readonly kind: 'too far'; readonly duv: number }
  /** Its isotherm lies past an end of the range. */
  | { readonly kind: 'colder than range' | 'hotter than range' }
  /** A coordinate is not a number or not finite. */
  | { readonly kind: 'no colour' }

const COLDEST_MIRED = 1e6 / LOCUS_COLDEST_K
const HOTTEST_MIRED = 1e6 / LOCUS_HOTTEST_K
/**
 * Even steps in mired, in which the locus is smoothest. 256 keep the cubic between nodes within
 * 1e-5 K of the integral below 2500 K and within 5e-4 K at 20000 K.
 */
const SEGMENTS = 256
const STEP = (COLDEST_MIRED - HOTTEST_MIRED) / SEGMENTS

/** Four numbers a node: u, v and their derivatives by node number. */
let nodes: Float64Array | undefined

/** Built at first use: 257 integrations, a few milliseconds. */
function buildNodes(): Float64Array {
  const built = new Float64Array(4 * (SEGMENTS + 1))
  for (let i = 0; i <= SEGMENTS; i++) {
    const point = locusPoint(1e6 / (HOTTEST_MIRED + i * STEP), SECOND_RADIATION_CONSTANT)
    built.set([point.u, point.v, point.uByMired * STEP, point.vByMired * STEP], 4 * i)
  }
  return built
}

/**
 * Correlated colour temperature and Duv of a CIE 1960 chromaticity: the foot of the perpendicular
 * on the Planckian locus.
 *
 * Within 0.01 K of 1 nm spectral integration over 800..4000 K on the locus.
 *
 * Method: the isotherm through a node is the line where (p - c) . c' changes sign; the signs are
 * bisected as in Robertson 1968, then Newton finds the foot on the cubic between two nodes. The
 * radius of curvature of the locus is nowhere below 0.103, so isotherms do not meet within
 * {@link DUV_LIMIT} and the foot is the only one.
 */
export function colourTemperatureFromUv({ u, v }: Uv): ColourTemperature {
  if (!(Number.isFinite(u) && Number.isFinite(v))) return { kind: 'no colour' }
  nodes ??= buildNodes()
  const n = nodes
  /** Distance along the tangent at a node, times a positive factor. */
  const along = (i: number) => (u - n[4 * i]!) * n[4 * i + 2]! + (v - n[4 * i + 1]!) * n[4 * i + 3]!

  const hot = along(0)
  const cold = along(SEGMENTS)
  if (hot < 0) return pastEnd(u, v, 'hotter than range')
  if (cold > 0) return pastEnd(u, v, 'colder than range')
  let low = 0
  let high = SEGMENTS
  let atLow = hot
  let atHigh = cold
  while (high - low > 1) {
    const middle = (low + high) >> 1
    const value = along(middle)
    if (value >= 0) {
      low = middle
      atLow = value
    } else {
      high = middle
      atHigh = value
    }
  }

  // Cubic Hermite segment as a power series in t, 0..1.
  const a = 4 * low
  const u1 = n[a + 2]!
  const v1 = n[a + 3]!
  const du = n[a + 4]! - n[a]!
  const dv = n[a + 5]! - n[a + 1]!
  const u2 = 3 * du - 2 * u1 - n[a + 6]!
  const v2 = 3 * dv - 2 * v1 - n[a + 7]!
  const u3 = u1 + n[a + 6]! - 2 * du
  const v3 = v1 + n[a + 7]! - 2 * dv
  const pu = u - n[a]!
  const pv = v - n[a + 1]!
  let t = atLow > 0 ? atLow / (atLow - atHigh) : 0
  let ru = 0
  let rv = 0
  let tu = 0
  let tv = 0
  for (let step = 0; ; step++) {
    ru = pu - t * (u1 + t * (u2 + t * u3))
    rv = pv - t * (v1 + t * (v2 + t * v3))
    tu = u1 + t * (2 * u2 + t * 3 * u3)
    tv = v1 + t * (2 * v2 + t * 3 * v3)
    if (step === 2) break
    const curvature = ru * (2 * u2 + 6 * t * u3) + rv * (2 * v2 + 6 * t * v3)
    const slope = tu * tu + tv * tv - curvature
    // Far off the locus the perpendicular may not be unique; there the guess is good enough.
    if (!(slope > 0)) break
    t = Math.min(Math.max(t + (ru * tu + rv * tv) / slope, 0), 1)
  }
  const duv = (rv * tu - ru * tv) / Math.sqrt(tu * tu + tv * tv)
  if (!(Math.abs(duv) <= DUV_LIMIT)) return { kind: 'too far', duv }
  return { kind: 'near', temperatureK: 1e6 / (HOTTEST_MIRED + (low + t) * STEP), duv }
}

/**
 * Past an end the locus runs on nearly straight to its limit: the red end of the spectrum, or the
 * colour of infinite temperature. Near that line a colour is out of range, elsewhere too far.
 */
function pastEnd(
  u: number,
  v: number,
  kind: 'colder than range' | 'hotter than range',
): ColourTemperature {
  const cold = kind === 'colder than range'
  const end = planckianUv(cold ? LOCUS_COLDEST_K : LOCUS_HOTTEST_K)
  const limit = planckianUv(cold ? 0 : Number.POSITIVE_INFINITY)
  const lu = limit.u - end.u
  const lv = limit.v - end.v
  const pu = u - end.u
  const pv = v - end.v
  const share = Math.min(Math.max((pu * lu + pv * lv) / (lu * lu + lv * lv), 0), 1)
  const distance = Math.hypot(pu - share * lu, pv - share * lv)
  if (distance <= DUV_LIMIT) return { kind }
  const above = (pv * lu - pu * lv) * (cold ? 1 : -1) >= 0
  return { kind: 'too far', duv: above ? distance : -distance }
}

/**
 * Correlated colour temperature and Duv of a CIE 1931 chromaticity, see
 * {@link colourTemperatureFromUv}.
 *
 * @example colourTemperatureFromXy({ x: 0.3127, y: 0.329 }) // { temperatureK: 6504.25, duv: 0.0032 }; D65
 */
export function colourTemperatureFromXy(xy: Xy): ColourTemperature {
  return colourTemperatureFromUv(uvFromXy(xy))
}
