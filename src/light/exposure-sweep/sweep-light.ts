import { P3_FROM_SRGB } from '../../colour/rgb-spaces.ts'
import { diagonal, propagate, type Triple, transform } from '../../numerics/matrix3.ts'
import { meanOuterProduct } from '../../numerics/statistics.ts'
import { measureBackground, RELATIVE_UNCERTAINTY } from '../background-ring.ts'
import type { LinearColour, Region, RgbSpace } from '../image.ts'
import type { Choice } from './choose-kind.ts'
import type { RegionCodes } from './frame-levels.ts'
import type { SweepFrame } from './sweep-result.ts'
import { applyToneCurve, type ToneCurve } from './tone-curve.ts'

/** Linear light in the file's own space at an exposure. */
export function lightOf(
  { lnLight, covariance }: Choice,
  lnExposure: number,
  codes: RegionCodes,
  blueSeen: boolean,
): LinearColour {
  const mean: Triple = [
    Math.exp(lnLight[0] + lnExposure),
    Math.exp(lnLight[1] + lnExposure),
    // Never seen above the floor: what its codes say, give or take all of it.
    blueSeen ? Math.exp(lnLight[2] + lnExposure) : codes.light[2],
  ]
  const scaled = propagate(diagonal(mean), covariance)
  if (blueSeen) return { mean, covariance: scaled }
  const [r, g] = scaled
  return {
    mean,
    covariance: [
      [r[0], r[1], 0],
      [g[0], g[1], 0],
      [0, 0, Math.max(mean[2], 1e-4) ** 2],
    ],
  }
}

export function inP3({ mean, covariance }: LinearColour, space: RgbSpace): LinearColour {
  if (space === 'display-p3') return { mean, covariance }
  return {
    mean: transform(P3_FROM_SRGB, mean),
    covariance: propagate(P3_FROM_SRGB, covariance),
  }
}

interface PlacedFrame extends SweepFrame {
  readonly region: Region
}

/**
 * Light around the glow in the brightest frame, linear P3. What the darkest frame shows there too is
 * black level, which the recovery has accounted for.
 *
 * @returns null where no dark surroundings are in view
 */
export function backgroundLight(
  curve: ToneCurve,
  bright: PlacedFrame,
  dark: PlacedFrame,
  glow: Triple,
): LinearColour | null {
  const around = ({ image, region }: PlacedFrame, level: number) =>
    measureBackground(applyToneCurve(curve, image), region, [
      level * glow[0],
      level * glow[1],
      level * glow[2],
    ])
  const step = dark.relativeExposure / bright.relativeExposure
  const high = around(bright, 1)?.colour.mean
  const low = around(dark, step)?.colour.mean
  if (!high || !low) return null
  const light = (c: 0 | 1 | 2) => Math.max((high[c] - low[c]) / (1 - step), 0)
  const mean: Triple = [light(0), light(1), light(2)]
  return { mean, covariance: meanOuterProduct([mean], RELATIVE_UNCERTAINTY ** 2) }
}

/** Standard uncertainty of ln of a channel over red. */
export function ratioSd({ mean, covariance }: LinearColour, c: 1 | 2): number {
  const [r, v] = [mean[0], mean[c]]
  return Math.sqrt(
    Math.max(
      covariance[0][0] / r ** 2 + covariance[c][c] / v ** 2 - (2 * covariance[0][c]) / (r * v),
      0,
    ),
  )
}
