import type { Triple } from '../numerics/matrix3.ts'
import { addMatrices, meanOuterProduct } from '../numerics/statistics.ts'
import type { LightFinding } from './finding.ts'
import { byWeight } from './finding.ts'
import { CLIPPED, type LightImage, type LinearColour, type Region } from './image.ts'
import { type GlowMeasurement, type GlowOptions, measureGlow } from './measure-glow.ts'
import { measurePatch } from './patch.ts'

/** Light of other sources on and before the glow, from a photo with the glow off or covered. */
export interface StrayLight {
  /** In the region, at the exposure of the glow's photo. */
  readonly colour: LinearColour
  /** Over what is left of the glow, each channel. */
  readonly share: Triple
}

export type StrayFinding = LightFinding<
  'stray light' | 'stray light clipped' | 'stray light exceeds glow'
>

export type StrayResult =
  | {
      readonly kind: 'measured'
      readonly measurement: GlowMeasurement
      readonly stray: StrayLight
      readonly findings: readonly StrayFinding[]
    }
  | { readonly kind: 'refused'; readonly reason: 'sizes differ' | 'channels differ' }

/** Lamps flicker and exposures are rounded: the same light twice, as a standard uncertainty. */
const REPEATABILITY = 0.05
/** From this share of the glow on stray light is worth a warning. */
const STRAY_SHARE = 0.03

/**
 * A picture without the light of other sources.
 *
 * Light adds up only where it is linear: both pictures must have been decoded with the camera's own
 * tone curve, or raw; with an unknown curve a remainder of the stray light stays.
 *
 * @param lightsOnly the same view with the glow off or covered, same size and channels
 * @param exposureRatio exposure of the glow's photo over that of the other
 */
export function withoutStrayLight(
  glow: LightImage,
  lightsOnly: LightImage,
  exposureRatio: number,
): LightImage {
  const rgb = glow.rgb.map((v, i) => v - exposureRatio * lightsOnly.rgb[i]!)
  // A clipped lamp says nothing about what lies before it.
  const flags = glow.flags.map((f, p) => f | (lightsOnly.flags[p]! & CLIPPED))
  return { ...glow, rgb, flags }
}

/** Measures a glow with the light of other sources taken off pixel by pixel. */
export function measureWithoutStrayLight(
  glow: LightImage,
  lightsOnly: LightImage,
  region: Region,
  options: GlowOptions & { readonly exposureRatio: number },
): StrayResult {
  if (glow.width !== lightsOnly.width || glow.height !== lightsOnly.height) {
    return { kind: 'refused', reason: 'sizes differ' }
  }
  if (glow.channels !== lightsOnly.channels) return { kind: 'refused', reason: 'channels differ' }
  const { exposureRatio } = options
  const patch = measurePatch(lightsOnly, region)
  const whole = measureGlow(withoutStrayLight(glow, lightsOnly, exposureRatio), region, options)
  const mean = patch.colour.mean.map((v) => v * exposureRatio) as unknown as Triple
  const covariance = meanOuterProduct([mean], REPEATABILITY ** 2)
  const measurement: GlowMeasurement = {
    ...whole,
    glow: {
      mean: whole.glow.mean,
      covariance: addMatrices(whole.glow.covariance, covariance),
    },
  }
  const share = (c: 0 | 1 | 2) => mean[c] / Math.max(whole.glow.mean[c], Number.MIN_VALUE)
  const stray: StrayLight = {
    colour: { mean, covariance },
    share: [share(0), share(1), share(2)],
  }
  const findings: StrayFinding[] = []
  const values = { redShare: stray.share[0], greenShare: stray.share[1] }
  if (patch.clippedShare > 0) {
    findings.push({
      code: 'stray light clipped',
      weight: 'warning',
      values: { share: patch.clippedShare },
    })
  }
  if (stray.share[1] > 1)
    findings.push({ code: 'stray light exceeds glow', weight: 'warning', values })
  else if (Math.max(stray.share[0], stray.share[1]) > STRAY_SHARE) {
    findings.push({ code: 'stray light', weight: 'note', values })
  }
  return { kind: 'measured', measurement, stray, findings: byWeight(findings) }
}
