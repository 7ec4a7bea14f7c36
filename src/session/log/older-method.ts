import { METHOD_VERSION } from '../../estimate/method-version.ts'
import { SPECTRUM_METHOD_VERSION } from '../../estimate/spectrum/method-version.ts'
import type { Method, Summary } from '../../log/schema/types.ts'

/** Readings by colour: their inputs are those of the estimate of a glow. */
export const BY_COLOUR: readonly Method[] = ['photo', 'raw', 'sweep', 'live', 'practice']

/** The version by which readings of a kind are computed today; null for those that never are. */
export function methodVersionOf(method: Method): string | null {
  if (method === 'spectrum') return SPECTRUM_METHOD_VERSION
  return BY_COLOUR.includes(method) ? METHOD_VERSION : null
}

/** Was its figure computed by an earlier version of the method? Made-up figures never were. */
export function isByOlderMethod({
  method,
  methodVersion,
  damaged,
  demo,
}: Pick<Summary, 'method' | 'methodVersion' | 'damaged' | 'demo'>): boolean {
  const now = methodVersionOf(method)
  return !damaged && !demo && now !== null && methodVersion !== now
}
