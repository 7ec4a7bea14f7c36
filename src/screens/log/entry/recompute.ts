import { estimateGlow } from '../../../estimate/estimate-glow.ts'
import type { GlowEstimate, GlowInput } from '../../../estimate/types.ts'
import { currentResult } from '../../../log/reading-schema.ts'
import type { Json, Reading, Result } from '../../../log/types.ts'
import { resultOf } from '../../reading/reading-record.ts'
import type { RecomputePlan, RecomputeReason } from './recompute-plan.ts'

export interface Recomputed {
  readonly result: Result
  readonly reasons: readonly RecomputeReason[]
  /** Another figure than the one that counts, or by another version of the method. */
  readonly differs: boolean
  /** For the log: inputs only where they are not those of before. */
  readonly inputs: Json
  readonly details: Json
}

/** A difference that no figure shows, K. */
const SAME_K = 0.05

/** The reading by today's method. */
export function recompute(reading: Reading, plan: RecomputePlan): Recomputed {
  const { input, asStored, reasons } = plan
  const estimate = estimateGlow(input)
  const result = resultOf(estimate, input)
  const now = currentResult(reading)
  return {
    result,
    reasons,
    differs: now.methodVersion !== result.methodVersion || !sameFigure(now, result),
    inputs: asStored ? null : asJson(input),
    details: asJson({ estimate }),
  }
}

/** Would both be shown alike? */
export function sameFigure(a: Result, b: Result): boolean {
  if (a.kind === 'none' || b.kind === 'none') return a.kind === b.kind
  if (a.kind !== b.kind || Math.abs(a.temperatureK - b.temperatureK) > SAME_K) return false
  if (a.kind !== 'temperature' || b.kind !== 'temperature') return true
  return Math.abs(a.expandedUncertaintyK - b.expandedUncertaintyK) <= SAME_K
}

const asJson = (value: GlowInput | { estimate: GlowEstimate }) => value as unknown as Json
