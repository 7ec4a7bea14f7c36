import { METHOD_VERSION } from '../../estimate/method-version.ts'
import { SPECTRUM_METHOD_VERSION } from '../../estimate/spectrum/method-version.ts'
import { surfaceFromMaterial } from '../../estimate/spectrum/surface.ts'
import { windowFromMaterial } from '../../estimate/spectrum/windows.ts'
import type { GlowInput, KnownHeatReference } from '../../estimate/types.ts'
import { canonicalText } from '../../log/schema/json-value.ts'
import { currentInputs, currentResult } from '../../log/schema/reading-schema.ts'
import type { Json, Reading } from '../../log/schema/types.ts'
import { materialById } from '../../physics/materials.ts'
import { surfaceOf, windowOf } from '../reading/glow-input.ts'
import { BY_COLOUR } from './older-method.ts'
import { storedGlow } from './stored-glow.ts'
import { type StoredSpectrum, storedSpectrum } from './stored-spectrum.ts'

export type NotRecomputable = 'other method' | 'no inputs' | 'inputs unreadable'

/** What has changed since the result that counts. */
export type RecomputeReason = 'method' | 'surface' | 'cover' | 'known heats'

/** What a reading would be computed from today; without a reason the figure would be the same. */
interface Plan<Kind, Input> {
  readonly kind: Kind
  readonly input: Input
  /** The input is the one that was stored. */
  readonly asStored: boolean
  readonly reasons: readonly RecomputeReason[]
}
export type GlowPlan = Plan<'glow', GlowInput>
export type SpectrumPlan = Plan<'spectrum', StoredSpectrum>
export type RecomputePlan = GlowPlan | SpectrumPlan

/**
 * Puts together what computing again would start from: what was stored with the reading, with
 * surface and cover as the reading states them now, by today's tables, so that a wrong surface can be
 * put right afterwards. Cheap: nothing is estimated.
 *
 * @param kit known heats to use instead of those of that time; without any of this reading's camera,
 *   or null, those stay. A spectrum has none.
 */
export function recomputePlan(
  reading: Reading,
  kit: readonly KnownHeatReference[] | null,
): RecomputePlan | NotRecomputable {
  const bySpectrum = reading.method === 'spectrum'
  if (!bySpectrum && !BY_COLOUR.includes(reading.method)) return 'other method'
  const stored = currentInputs(reading)
  if (stored === null) return 'no inputs'
  return (
    (bySpectrum ? spectrumPlan(reading, stored) : glowPlan(reading, stored, kit)) ??
    'inputs unreadable'
  )
}

function glowPlan(
  reading: Reading,
  stored: Json,
  kit: readonly KnownHeatReference[] | null,
): GlowPlan | null {
  const before = storedGlow(stored)
  if (before === null) return null
  const surface = materialById(reading.material) ? surfaceOf(reading.material) : before.surface
  const window = reading.cover === 'none' ? null : (windowOf(reading.cover) ?? before.window)
  const ofCamera = (all: readonly KnownHeatReference[]) =>
    all.filter(({ cameraId }) => cameraId === before.cameraId)
  const known = kit === null ? [] : ofCamera(kit)
  const otherHeats = known.length > 0 && !same(known, ofCamera(before.references))
  const references = otherHeats && kit !== null ? kit : before.references
  const input: GlowInput = { ...before, surface, window, references }
  const reasons = [
    ...reasonsOf(reading, METHOD_VERSION, before, input),
    ...(otherHeats ? (['known heats'] as const) : []),
  ]
  return { kind: 'glow', input, asStored: same(input, before), reasons }
}

function spectrumPlan(reading: Reading, stored: Json): SpectrumPlan | null {
  const before = storedSpectrum(stored)
  if (before === null) return null
  const surface = surfaceFromMaterial(reading.material) ?? before.surface
  const window =
    reading.cover === 'none' ? null : (windowFromMaterial(reading.cover) ?? before.window)
  const input = { ...before, surface, window }
  return {
    kind: 'spectrum',
    input,
    asStored: same([surface, window], [before.surface, before.window]),
    reasons: reasonsOf(reading, SPECTRUM_METHOD_VERSION, before, input),
  }
}

function reasonsOf(
  reading: Reading,
  methodVersion: string,
  before: { readonly surface: unknown; readonly window: unknown },
  now: { readonly surface: unknown; readonly window: unknown },
): RecomputeReason[] {
  const reasons: RecomputeReason[] = []
  if (currentResult(reading).methodVersion !== methodVersion) reasons.push('method')
  if (!same(now.surface, before.surface)) reasons.push('surface')
  if (!same(now.window, before.window)) reasons.push('cover')
  return reasons
}

const same = (a: unknown, b: unknown) => canonicalText(a as Json) === canonicalText(b as Json)
