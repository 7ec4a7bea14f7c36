import { estimateGlow } from '../../../estimate/estimate-glow.ts'
import type { GlowEstimate, GlowInput, KnownHeatReference } from '../../../estimate/types.ts'
import { canonicalText } from '../../../log/json-value.ts'
import { currentResult } from '../../../log/reading-schema.ts'
import type { Json, Method, Reading, Recomputation, Result } from '../../../log/types.ts'
import { materialById } from '../../../physics/materials.ts'
import { surfaceOf, windowOf } from '../../reading/glow-input.ts'
import { resultOf } from '../../reading/reading-record.ts'
import { storedGlow } from './stored-glow.ts'

/** Readings by colour: their inputs are those of the estimate of a glow. */
const BY_COLOUR: readonly Method[] = ['photo', 'raw', 'sweep', 'live', 'practice']

export type NotRecomputable = 'other method' | 'no inputs' | 'inputs unreadable'

/** What has changed since the result that counts. */
export type RecomputeReason = 'method' | 'surface' | 'cover' | 'known heats'

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

/**
 * The reading by today's method, from what was stored with it. Surface and cover are taken as the
 * reading states them now, by today's tables: a wrong surface can be put right afterwards.
 *
 * @param kit known heats to use instead of those of that time; without any of this reading's camera,
 *   or null, those stay
 */
export function recompute(
  reading: Reading,
  kit: readonly KnownHeatReference[] | null,
): Recomputed | NotRecomputable {
  if (!BY_COLOUR.includes(reading.method)) return 'other method'
  const stored = latestInputs(reading)
  if (stored === null) return 'no inputs'
  const before = storedGlow(stored)
  if (before === null) return 'inputs unreadable'

  const surface = materialById(reading.material) ? surfaceOf(reading.material) : before.surface
  const window = reading.cover === 'none' ? null : (windowOf(reading.cover) ?? before.window)
  const ofCamera = kit?.some(({ cameraId }) => cameraId === before.cameraId) ?? false
  const references = kit !== null && ofCamera ? kit : before.references
  const input: GlowInput = { ...before, surface, window, references }
  const estimate = estimateGlow(input)
  const result = resultOf(estimate, input)
  const now = currentResult(reading)
  const reasons: RecomputeReason[] = []
  if (now.methodVersion !== result.methodVersion) reasons.push('method')
  if (!same(surface, before.surface)) reasons.push('surface')
  if (!same(window, before.window)) reasons.push('cover')
  if (!same(references, before.references)) reasons.push('known heats')
  return {
    result,
    reasons,
    differs: now.methodVersion !== result.methodVersion || !sameFigure(now, result),
    inputs: same(input, before) ? null : asJson(input),
    details: asJson({ estimate }),
  }
}

/** Inputs of the latest recomputation that had its own, else those of the reading. */
function latestInputs({ inputs, recomputations }: Reading): Json {
  const own = recomputations.findLast((one: Recomputation) => one.inputs !== null)
  return own?.inputs ?? inputs
}

/** Would both be shown alike? */
export function sameFigure(a: Result, b: Result): boolean {
  if (a.kind === 'none' || b.kind === 'none') return a.kind === b.kind
  if (a.kind !== b.kind || Math.abs(a.temperatureK - b.temperatureK) > SAME_K) return false
  if (a.kind !== 'temperature' || b.kind !== 'temperature') return true
  return Math.abs(a.expandedUncertaintyK - b.expandedUncertaintyK) <= SAME_K
}

const same = (a: unknown, b: unknown) => canonicalText(a as Json) === canonicalText(b as Json)
const asJson = (value: GlowInput | { estimate: GlowEstimate }) => value as unknown as Json
