import type { Triple } from '../../numerics/matrix3.ts'
import { clippingLevels } from '../clipping-level.ts'
import type { Region } from '../image.ts'
import type { CardGain } from './card-gains.ts'
import { type CodingSteps, nominalLevels, type RegionCodes, regionCodes } from './frame-levels.ts'
import { neededStops } from './needed-stops.ts'
import type { FrameLevels } from './recover-response.ts'
import type { FrameReport, SweepDepth, SweepFrame } from './sweep-result.ts'

/** Clipped pixels up to this share are tails of the noise and move a mean by hundredths of a code. */
const CLIPPED_SHARE = 0.01
/** A balance that stood still. */
const STILL: CardGain = { lnGain: [0, 0, 0], uncertainty: [0, 0, 0] }
/** Exposures this close count as the same one repeated, ln. */
const SAME_EXPOSURE = 0.03

/** What the frames of a sweep say about the region, clipped and dark ones left out. */
export interface UsableFrames {
  readonly codes: readonly RegionCodes[]
  readonly reports: readonly FrameReport[]
  /** Indices of the frames that {@link data} stands for. */
  readonly used: readonly number[]
  readonly data: readonly FrameLevels[]
  /** Different exposures among them. */
  readonly exposures: number
  /** The first exposure was repeated by the last frame. */
  readonly repeated: boolean
}

/**
 * @param places the region as it lies in each frame, and by how much it was shifted
 * @param gains of the balance in each frame where a card is followed; null where it was not seen
 */
export function usableFrames(
  frames: readonly SweepFrame[],
  places: readonly { region: Region; dx: number; dy: number }[],
  steps: CodingSteps,
  gains: readonly (CardGain | null)[] | null = null,
): UsableFrames {
  const tops = plateauTops(frames)
  const codes = frames.map((f, k) => regionCodes(f.image, places[k]!.region, tops))
  const levels = codes.map((c) => nominalLevels(c, steps))
  const lnExposure = frames.map((f) => Math.log(f.relativeExposure))
  const reports = codes.map(
    (c, k): FrameReport => ({
      status:
        c.clippedShare > CLIPPED_SHARE
          ? 'clipped'
          : levels[k]!.nominal[0] === null
            ? 'dark'
            : gains && !gains[k]
              ? 'card not seen'
              : 'used',
      codes: c.code,
      clippedShare: c.clippedShare,
      shift: { dx: places[k]!.dx, dy: places[k]!.dy },
      residuals: null,
      exposureError: null,
    }),
  )
  const used = reports.flatMap((r, k) => (r.status === 'used' ? [k] : []))
  const last = frames.length - 1
  return {
    codes,
    reports,
    used,
    data: used.map((k) => {
      const { lnGain, uncertainty } = gains?.[k] ?? STILL
      const level = levels[k]!
      const sd = (c: 0 | 1 | 2) => Math.hypot(level.uncertainty[c], uncertainty[c])
      return {
        lnExposure: lnExposure[k]!,
        lnGain,
        time: k / Math.max(last, 1),
        nominal: level.nominal,
        uncertainty: [sd(0), sd(1), sd(2)],
      }
    }),
    exposures: new Set(used.map((k) => Math.round(lnExposure[k]! / SAME_EXPOSURE))).size,
    repeated:
      used.length >= 5 &&
      used[0] === 0 &&
      used[used.length - 1] === last &&
      Math.abs(lnExposure[0]! - lnExposure[last]!) < SAME_EXPOSURE,
  }
}

/** Frames in which red is highest and lowest. */
export function extremes(data: readonly FrameLevels[]): { brightest: number; darkest: number } {
  const red = (i: number) => data[i]!.nominal[0]!
  let [brightest, darkest] = [0, 0]
  for (let i = 1; i < data.length; i++) {
    if (red(i) > red(brightest)) brightest = i
    if (red(i) < red(darkest)) darkest = i
  }
  return { brightest, darkest }
}

/** How far down the sweep goes and should go; null where green was never seen. */
export function sweepDepth(data: readonly FrameLevels[]): SweepDepth {
  const { brightest, darkest } = extremes(data)
  const [high, low] = [data[brightest]!, data[darkest]!]
  return {
    // Unseen green is at the first codes or below.
    neededStops: neededStops(high.nominal[0]!, high.nominal[1] ?? -8),
    givenStops: (high.lnExposure - low.lnExposure) / Math.LN2,
  }
}

/** Where each channel is clipped in any of the frames. */
function plateauTops(frames: readonly SweepFrame[]): Triple {
  const all = frames.map((f) => clippingLevels(f.image).codes)
  const lowest = (c: 0 | 1 | 2) => Math.min(...all.map((t) => t[c]))
  return [lowest(0), lowest(1), lowest(2)]
}

/** Slope of nominal ln light against ln exposure that no tone curve has. */
const SLOPES = [0.08, 5] as const

/** Stated exposures whose red does not follow at all. */
export function wrongSlope(
  data: readonly FrameLevels[],
  used: readonly number[],
): Record<string, number> | null {
  const sorted = data
    .map((d, i) => ({ t: d.lnExposure + d.lnGain[0], u: d.nominal[0]!, frame: used[i]! }))
    .sort((a, b) => a.t - b.t)
  for (let i = 1; i < sorted.length; i++) {
    const [low, high] = [sorted[i - 1]!, sorted[i]!]
    if (high.t - low.t < 0.3) continue
    const slope = (high.u - low.u) / (high.t - low.t)
    // Near the top every tone curve may be flat.
    const least = high.u > -0.7 ? 0.02 : SLOPES[0]
    if (slope < least || slope > SLOPES[1]) return { frame: high.frame, slope }
  }
  return null
}
