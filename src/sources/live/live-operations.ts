import type { TemperatureDifference } from '../../estimate/difference.ts'
import type { LiveLine } from '../../estimate/live/live-line.ts'
import type { GlowEstimate, GlowInput } from '../../estimate/types.ts'
import type { ToneCurveCheck } from '../../light/exposure-sweep/check-tone-curve.ts'
import type { SweepFrame, SweepResult } from '../../light/exposure-sweep/sweep-result.ts'
import type { ToneCurve } from '../../light/exposure-sweep/tone-curve.ts'
import type { Region } from '../../light/image.ts'
import type { FramePixels } from '../../light/live/frame-codes.ts'
import type { PhotoMeasurement } from '../../light/measure-photo.ts'
import type { Triple } from '../../numerics/matrix3.ts'
import type { Exposure } from '../../physics/brightness.ts'
import type { CardLook, CardSight } from './look-at-card.ts'

/** What a look at a whole frame starts from. */
export interface FrameLookInput {
  readonly pixels: FramePixels
  /** Null: find the glow. */
  readonly sight: Region | null
  /** The grey card in the frame, where there is one. */
  readonly card: CardSight | null
  /** Everything of the reading that the pixels do not say. */
  readonly settings: Omit<GlowInput, 'glow' | 'quality' | 'linearity' | 'balance' | 'level'>
  readonly curve: StreamCurve
  /** Where it stands still and is known: levels are then comparable. */
  readonly exposure: Exposure | null
}

/** The stream's unknown tone curve by name, or one that a sweep recovered, and how old that is. */
export interface StreamCurve {
  readonly id: string
  readonly recovered: ToneCurve | null
  /** What may have changed since it was found or checked: standard uncertainty of ln(G/R). */
  readonly movedBy: number
}

/** What a look at a whole frame found. */
export interface FrameLook {
  readonly region: Region | null
  /** Why no glow was found. */
  readonly absence: string | null
  readonly measurement: PhotoMeasurement | null
  readonly card: CardLook | null
  /** Mean linear light of the region as a single frame is read, in the stream's own space. */
  readonly plain: Triple | null
  /** The same of the dark surroundings; null where none are seen. */
  readonly background: Triple | null
  /** That of this look, or of an earlier one that still holds; by colour alone. */
  readonly line: LiveLine | null
  /** ln(G/R) of this look as lines have it; NaN where no glow was found or it is not above 0. */
  readonly lnRatio: number
  /**
   * ln(G/R), ln(B/R), ln R of what does not glow: for the drift of white balance; null where too
   * dark.
   */
  readonly surroundings: Triple | null
}

export type LiveOperations = {
  estimate: readonly [GlowInput, GlowEstimate]
  look: readonly [FrameLookInput, FrameLook]
  /** How much hotter the second is than the first; null where that cannot be told. */
  difference: readonly [
    { readonly first: GlowInput; readonly second: GlowInput },
    TemperatureDifference | null,
  ]
  /** Does a kept tone curve hold for these frames of different exposure? */
  check: readonly [
    {
      readonly curve: ToneCurve
      readonly frames: readonly SweepFrame[]
      readonly region: Region
    },
    ToneCurveCheck,
  ]
  sweep: readonly [{ readonly frames: readonly SweepFrame[]; readonly region: Region }, SweepResult]
}
