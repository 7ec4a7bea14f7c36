import { estimateGlow } from '../../estimate/estimate-glow.ts'
import { SPECTRUM_METHOD_VERSION } from '../../estimate/spectrum/method-version.ts'
import { temperatureFromSpectrum } from '../../estimate/spectrum/temperature.ts'
import { currentResult } from '../../log/schema/reading-schema.ts'
import type { Json, Reading, Result } from '../../log/schema/types.ts'
import { resultOf } from '../reading/reading-record.ts'
import { spectrumDetails, spectrumResult } from '../spectrum/spectrum-record.ts'
import type { GlowPlan, RecomputePlan, RecomputeReason, SpectrumPlan } from './recompute-plan.ts'

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
  const { result, details } = plan.kind === 'glow' ? ofGlow(plan) : ofSpectrum(reading, plan)
  const now = currentResult(reading)
  return {
    result,
    reasons: plan.reasons,
    differs: now.methodVersion !== result.methodVersion || !sameFigure(now, result),
    inputs: plan.asStored ? null : asJson(plan.input),
    details: asJson(details),
  }
}

function ofGlow({ input }: GlowPlan): { result: Result; details: object } {
  const estimate = estimateGlow(input)
  return { result: resultOf(estimate, input), details: { estimate } }
}

function ofSpectrum(
  { material, cover }: Reading,
  { input }: SpectrumPlan,
): { result: Result; details: object } {
  const found = temperatureFromSpectrum(input)
  if (!found.ok) {
    const methodVersion = SPECTRUM_METHOD_VERSION
    return { result: { kind: 'none', reason: found.code, methodVersion }, details: found }
  }
  const { responseId, tableName } = input
  const causes = { responseId, materialId: material, cover, tableName }
  return { result: spectrumResult(found, causes), details: spectrumDetails(found) }
}

/** Would both be shown alike? */
export function sameFigure(a: Result, b: Result): boolean {
  if (a.kind === 'none' || b.kind === 'none') return a.kind === b.kind
  if (a.kind !== b.kind || Math.abs(a.temperatureK - b.temperatureK) > SAME_K) return false
  if (a.kind !== 'temperature' || b.kind !== 'temperature') return true
  return Math.abs(a.expandedUncertaintyK - b.expandedUncertaintyK) <= SAME_K
}

const asJson = (value: object) => value as unknown as Json
