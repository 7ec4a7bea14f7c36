import { decodeTransfer, encodeTransfer, SRGB_FROM_P3 } from '../../colour/rgb-spaces.ts'
import { semidefiniteCholesky } from '../../numerics/linear-algebra.ts'
import { type Triple, transform } from '../../numerics/matrix3.ts'
import { type ClippingLevels, clippingLevels } from '../clipping-level.ts'
import type { LightImage, RgbSpace, StoredImage } from '../image.ts'
import { greenSlopeInP3, lightImage } from '../tone-response.ts'
import type { FrameLevels, Recovery } from './recover-response.ts'
import { bendAt, bendWeights, type Response, type SweptCurveKind } from './response.ts'

/**
 * The tone curve of a camera and capture path, found by an exposure sweep. Plain data: kept in the
 * kit and applied to later photos.
 */
export interface ToneCurve {
  /** 1 counted its response over another axis: not to be applied. */
  readonly version: 2
  readonly kind: SweptCurveKind
  /** Colour space of the files it was found in and holds for. */
  readonly space: RgbSpace
  readonly response: Response
  /** Covariance of the response's coefficients, row by row, lower triangle. */
  readonly covariance: readonly number[]
  /** Nominal ln light between which the curve was seen. */
  readonly from: number
  readonly to: number
  /** Root mean square residual in ln light, and number of data. */
  readonly residual: number
  readonly data: number
}

/** The curve of a recovery, to be kept. */
export function recoveredCurve(
  recovery: Pick<Recovery, 'response' | 'responseCovariance' | 'residuals'>,
  data: readonly Pick<FrameLevels, 'nominal'>[],
  space: RgbSpace,
): ToneCurve {
  const seen = data.flatMap((d) => d.nominal.filter((v) => v !== null))
  const residuals = recovery.residuals.flat().filter((v) => v !== null)
  return {
    version: 2,
    kind: recovery.response.kind,
    space,
    response: recovery.response,
    covariance: recovery.responseCovariance,
    from: Math.min(...seen),
    to: Math.max(...seen),
    residual: Math.sqrt(residuals.reduce((s, v) => s + v * v, 0) / Math.max(residuals.length, 1)),
    data: residuals.length,
  }
}

/** ln of true light over nominal light at a nominal light level (ln, full scale 0). */
export function toneBend(curve: ToneCurve, nominalLn: number): number {
  return bendAt(curve.response, nominalLn).value
}

/**
 * Linear light of a stored code, in the file's own space, full scale about 1.
 *
 * @param code 0..1; 0 gives 0
 */
export function lightFromCode(curve: ToneCurve, code: number): number {
  const nominal = decodeTransfer(code)
  return nominal > 0 ? nominal * Math.exp(toneBend(curve, Math.log(nominal))) : 0
}

/** Code at which the curve gives a light: halving, because recovered curves have no inverse of their own. */
function codeFromLight(curve: ToneCurve, light: number): number {
  let [low, high] = [0, 1]
  for (let i = 0; i < 20; i++) {
    const middle = (low + high) / 2
    if (lightFromCode(curve, middle) < light) low = middle
    else high = middle
  }
  return (low + high) / 2
}

/**
 * The inverse of {@link applyToneCurve} for one colour.
 *
 * @param light linear Display P3
 * @returns codes 0..1 in the file's own space; what lies beyond it at its edge
 */
export function codesFromLight(curve: ToneCurve, light: Triple): Triple {
  const own = curve.space === 'srgb' ? transform(SRGB_FROM_P3, light) : light
  const each = (f: (value: number) => number): Triple => [f(own[0]), f(own[1]), f(own[2])]
  if (curve.kind === 'channel') return each((value) => codeFromLight(curve, value))
  const brightest = Math.max(...own)
  const nominal = decodeTransfer(codeFromLight(curve, brightest)) / brightest
  return each((value) => Math.min(Math.max(encodeTransfer(nominal * value), 0), 1))
}

/**
 * Decodes a photo into linear Display P3 with a recovered curve instead of the nominal one alone.
 *
 * Beyond the range in which the curve was seen it goes on straight in ln light; see
 * {@link toneCurveUncertainty}. A curve that keeps ratios is applied to the brightest channel and
 * scales the others along.
 */
export function applyToneCurve(
  curve: ToneCurve,
  image: StoredImage,
  levels: ClippingLevels = clippingLevels(image),
): LightImage {
  const table = Float64Array.from({ length: 256 }, (_, code) => lightFromCode(curve, code / 255))
  const light = (code: number) => {
    const position = Math.min(Math.max(code * 255, 0), 255)
    const low = Math.min(Math.floor(position), 254)
    return table[low]! + (position - low) * (table[low + 1]! - table[low]!)
  }
  if (curve.kind === 'channel') {
    return lightImage(image, levels, (r, g, b, out) => {
      out[0] = light(r)
      out[1] = light(g)
      out[2] = light(b)
    })
  }
  return lightImage(image, levels, (r, g, b, out) => {
    const brightest = Math.max(r, g, b)
    const nominal = decodeTransfer(brightest)
    const factor = nominal > 0 ? light(brightest) / nominal : 1
    out[0] = decodeTransfer(r) * factor
    out[1] = decodeTransfer(g) * factor
    out[2] = decodeTransfer(b) * factor
  })
}

/**
 * What a curve leaves uncertain about a colour: standard uncertainties of ln(G/R) in Display P3 and of
 * ln(B/R) in the file's own space, where they are the larger.
 */
export interface ToneUncertainty {
  readonly green: number
  readonly blue: number
  /**
   * {@link green} by cause, signed; the causes are common to all photos read by this curve. At two
   * levels of exposure their sum can be alike or opposed: its correlation runs from -0.4 to 1.
   */
  readonly greenErrors: readonly number[]
  /** Of either ratio, each photo's own. */
  readonly own: number
  /** The curve was seen at these levels. */
  readonly covered: boolean
}

/**
 * What the curve leaves uncertain about a colour.
 *
 * @param levels stored codes (0..1) of the region, each above 0
 */
export function toneCurveUncertainty(curve: ToneCurve, levels: Triple): ToneUncertainty {
  const nominal = levels.map((code) => Math.log(Math.max(decodeTransfer(code), 1e-5)))
  const [r, g, b] = nominal as [number, number, number]
  const against = (u: number) => (curve.kind === 'channel' ? bendErrors(curve, u, r) : [])
  const covered = curve.kind === 'ratio' || (g >= curve.from && r <= curve.to + 0.3)
  const light = (u: number) => Math.exp(u + toneBend(curve, u))
  const inP3 = greenSlopeInP3(curve.space, [light(r), light(g), light(b)])
  const greenErrors = against(g).map((error) => inP3 * error)
  return {
    green: Math.hypot(...greenErrors),
    blue: Math.hypot(...against(b)),
    greenErrors,
    own: PHOTO_TO_PHOTO,
    covered,
  }
}

/** No curve is the same from photo to photo to better than this, ln. */
const PHOTO_TO_PHOTO = 0.01

/**
 * What the recovery left open of the bend at `a` less that at `b`, as independent errors of one standard
 * uncertainty each: those of two photos have the same causes, so their products add up to the
 * covariance.
 */
function bendErrors(curve: ToneCurve, a: number, b: number): number[] {
  const { basis } = curve.response
  const weights = new Float64Array(basis.size)
  for (const [u, sign] of [
    [a, 1],
    [b, -1],
  ] as const) {
    const { index, weights: w } = bendWeights(basis, u)
    for (let k = 0; k < 4; k++) weights[index + k]! += sign * w[k]!
  }
  const root = semidefiniteCholesky(lowerRows(curve.covariance, basis.size))
  return Array.from({ length: basis.size }, (_, cause) => {
    let sum = 0
    for (let i = cause; i < basis.size; i++) sum += root[i]![cause]! * weights[i]!
    return sum
  })
}

/**
 * Errors of ln(G/R) in Display P3, as a sweep recovered it together with its curve, by the curve's own
 * causes: solves root e = covariance, with the factor by which {@link toneCurveUncertainty} counts them.
 *
 * @param withGreen covariance of ln(G/R) with each coefficient of the response
 * @param light linear light in the file's own space
 * @returns none for a curve that keeps ratios
 */
export function sweptGreenErrors(
  { kind, space, covariance, response: { basis } }: ToneCurve,
  withGreen: readonly number[],
  light: Triple,
): number[] {
  if (kind === 'ratio') return []
  const inP3 = greenSlopeInP3(space, light)
  const errors: number[] = []
  for (const [i, row] of semidefiniteCholesky(lowerRows(covariance, basis.size)).entries()) {
    const known = errors.reduce((sum, error, cause) => sum + row[cause]! * error, 0)
    // A direction without variance has no cause.
    errors.push(row[i]! > 0 ? (inP3 * withGreen[i]! - known) / row[i]! : 0)
  }
  return errors
}

/** A covariance kept as its lower triangle, as full lower rows. */
function lowerRows(lower: readonly number[], size: number): number[][] {
  return Array.from({ length: size }, (_, i) =>
    Array.from({ length: size }, (_, j) => (j <= i ? lower[(i * (i + 1)) / 2 + j]! : 0)),
  )
}
