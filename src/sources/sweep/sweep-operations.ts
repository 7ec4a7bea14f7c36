import type { ToneCurveCheck } from '../../light/exposure-sweep/check-tone-curve.ts'
import type { CodingSteps } from '../../light/exposure-sweep/frame-levels.ts'
import type { SweepFrame, SweepResult } from '../../light/exposure-sweep/sweep-result.ts'
import type { ToneCurve } from '../../light/exposure-sweep/tone-curve.ts'
import type { Region } from '../../light/image.ts'
import type { PairResult, RawPair } from '../../light/raw-pair/measure-pair.ts'

/** What the worker of a sweep answers. */
export type SweepOperations = {
  measure: readonly [Photographed & { readonly channelOdds: number }, SweepResult]
  check: readonly [Photographed & { readonly curve: ToneCurve }, ToneCurveCheck]
  pair: readonly [RawPair, PairResult]
}

interface Photographed {
  readonly frames: readonly SweepFrame[]
  readonly region: Region
  /** Null where the files do not say. */
  readonly steps: CodingSteps | null
  /** The frame that the balance is measured in. */
  readonly base: number
}
