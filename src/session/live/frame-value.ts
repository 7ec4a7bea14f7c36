import type { Region } from '../../light/image.ts'
import { LARGEST_CLIPPED_SHARE } from '../../light/patch.ts'
import { type FrameBase, glowLight, lnRatioOf, meanOf } from '../../sources/live/frame-ratio.ts'
import type { LiveFrame } from '../../sources/live/live-frame.ts'
import type { LiveTrouble } from './live-judgement.ts'

/** What one frame shows: ln(G/R) of the sight less that of the card, and ln of the sight's red. */
export interface FrameLnRatio {
  readonly lnRatio: number
  readonly lnRed: number
  /** The same with the surroundings taken off and a known tone curve undone, for recordings. */
  readonly course: { readonly lnRatio: number; readonly lnRed: number }
}

/**
 * @param card where a grey card counts; null without one
 * @returns what stands against the frame where it is of no use; null without light in both channels
 */
export async function frameValue(
  frame: LiveFrame,
  sight: Region,
  card: Region | null,
  base: FrameBase,
): Promise<FrameLnRatio | LiveTrouble | null> {
  const [mean, cardMean] = await Promise.all([
    meanOf(frame, sight),
    card ? meanOf(frame, card) : null,
  ])
  if (!mean) return 'too small'
  if (mean.clippedShare > LARGEST_CLIPPED_SHARE) return 'clipped'
  const byCard = cardMean ? lnRatioOf(cardMean.linear) : 0
  const lnRatio = lnRatioOf(mean.linear) - byCard
  if (!Number.isFinite(lnRatio)) return null
  const seen = glowLight(mean.linear, base)
  const course = { lnRatio: lnRatioOf(seen) - byCard, lnRed: Math.log(seen[0]) }
  return { lnRatio, lnRed: Math.log(mean.linear[0]), course }
}
