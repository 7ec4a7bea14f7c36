import { decodeTransfer } from '../../colour/rgb-spaces.ts'
import type { Triple } from '../../colour/vectors.ts'
import { type ClippingLevels, clippingLevels } from '../clipping-level.ts'
import type { LightImage, RgbSpace, StoredImage } from '../image.ts'
import { lightImage } from '../tone-response.ts'
import type { FrameLevels, Recovery } from './recover-response.ts'
import { bendAt, bendWeights, type CurveKind, type Response } from './response.ts'

/**
 * The tone curve of a camera and capture path, found by an exposure sweep. Plain data: kept in the
 * kit and applied to later photos.
 */
export interface ToneCurve {
  /** 1 counted its response over another axis: not to be applied. */
  readonly version: 2
  readonly kind: CurveKind
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
  recovery: Recovery,
  data: readonly FrameLevels[],
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
 * What the curve leaves uncertain about a colour: standard uncertainty of ln(G/R) and ln(B/R) in
 * the file's own space. All photos share what the recovery left open; `own` (of either ratio) is
 * each photo's.
 *
 * @param levels stored codes (0..1) of the region, each above 0
 */
export function toneCurveUncertainty(
  curve: ToneCurve,
  levels: Triple,
): { green: number; blue: number; own: number; covered: boolean } {
  const nominal = levels.map((code) => Math.log(Math.max(decodeTransfer(code), 1e-5)))
  const [r, g, b] = nominal as [number, number, number]
  const against = (u: number) => (curve.kind === 'channel' ? bendDifferenceSd(curve, u, r) : 0)
  const covered = curve.kind === 'ratio' || (g >= curve.from && r <= curve.to + 0.3)
  return { green: against(g), blue: against(b), own: PHOTO_TO_PHOTO, covered }
}

/** No curve is the same from photo to photo to better than this, ln. */
const PHOTO_TO_PHOTO = 0.01

function bendDifferenceSd(curve: ToneCurve, a: number, b: number): number {
  const { basis } = curve.response
  const weights = new Float64Array(basis.size)
  for (const [u, sign] of [
    [a, 1],
    [b, -1],
  ] as const) {
    const { index, weights: w } = bendWeights(basis, u)
    for (let k = 0; k < 4; k++) weights[index + k]! += sign * w[k]!
  }
  let variance = 0
  for (let i = 0, at = 0; i < basis.size; i++) {
    for (let j = 0; j <= i; j++, at++) {
      variance += (i === j ? 1 : 2) * weights[i]! * weights[j]! * curve.covariance[at]!
    }
  }
  return Math.sqrt(Math.max(variance, 0))
}
