import type { Region } from '../image.ts'
import { shifted } from './align.ts'
import { type CodingSteps, UNKNOWN_STEPS } from './frame-levels.ts'
import { placeFrames } from './place-frames.ts'
import type { SweepFrame } from './sweep-result.ts'
import { type ToneCurve, toneBend } from './tone-curve.ts'
import { usableFrames } from './usable-frames.ts'

/**
 * Standard uncertainty of ln(G/R) that a passed check leaves open. Of contrasts that have moved by 4 %
 * (standard deviation), seen through exposures of 2 % each over two stops, those that pass have moved
 * by 3 %; that acts on a ln(G/R) of about -2. Simulated with this check.
 */
export const CHECK_LEAVES = 0.06

export type ToneCurveCheck =
  | {
      readonly kind: 'checked'
      /** Root mean square of (found - stated) ln exposure over frames and channels. */
      readonly residual: number
      /** The same in units of what noise, coding and stated exposures leave open. */
      readonly misfit: number
      readonly agrees: boolean
    }
  | {
      readonly kind: 'not possible'
      readonly reason: 'other colour space' | 'too few frames' | 'exposures do not differ' | 'moved'
    }

/** Stated exposures against true, ln: rounded to the usual series. */
const EXPOSURE = 0.02
/** Range of exposures below which a curve is hardly tested, ln: 1.5 stops. */
const LEAST_RANGE = 1.5 * Math.LN2
/** Misfit beyond which the curve is not that of these photos. */
const LARGEST_MISFIT = 2.5

/**
 * Does a kept tone curve hold for new photos? Two of them at different known exposures are enough:
 * through the right curve the light of each channel must change as the exposure does. Two stops apart
 * they show a contrast that has changed by 6 % or more; what a smaller change costs see
 * {@link CHECK_LEAVES}.
 */
export function checkToneCurve(
  curve: ToneCurve,
  frames: readonly SweepFrame[],
  region: Region,
  steps: CodingSteps = UNKNOWN_STEPS,
): ToneCurveCheck {
  const no = (reason: Extract<ToneCurveCheck, { kind: 'not possible' }>['reason']) =>
    ({ kind: 'not possible', reason }) as const
  if (frames.some((f) => f.image.space !== curve.space)) return no('other colour space')
  if (frames.length < 2) return no('too few frames')
  const placed = placeFrames(frames, region)
  if (placed.kind === 'moved') return no('moved')
  const places = placed.shifts.map((s) => ({ region: shifted(region, s), dx: s.dx, dy: s.dy }))
  const { data } = usableFrames(frames, places, steps)
  if (data.length < 2) return no('too few frames')
  const exposures = data.map((d) => d.lnExposure)
  if (Math.max(...exposures) - Math.min(...exposures) < LEAST_RANGE) {
    return no('exposures do not differ')
  }
  let [squares, scaled, n] = [0, 0, 0]
  for (const c of [0, 1, 2] as const) {
    const rows = data.flatMap((d) => {
      const u = d.nominal[c]
      if (u === null) return []
      const at = curve.kind === 'channel' ? u : Math.max(...d.nominal.map((v) => v ?? -99))
      const sd = Math.hypot(d.uncertainty[c], EXPOSURE)
      return [{ light: u + toneBend(curve, at) - d.lnExposure, weight: 1 / sd ** 2 }]
    })
    if (rows.length < 2) continue
    const total = rows.reduce((sum, r) => sum + r.weight, 0)
    const mean = rows.reduce((sum, r) => sum + r.weight * r.light, 0) / total
    for (const { light, weight } of rows) {
      squares += (light - mean) ** 2
      scaled += weight * (light - mean) ** 2
    }
    n += rows.length - 1
  }
  const misfit = Math.sqrt(scaled / Math.max(n, 1))
  return {
    kind: 'checked',
    residual: Math.sqrt(squares / Math.max(n, 1)),
    misfit,
    agrees: misfit <= LARGEST_MISFIT,
  }
}
