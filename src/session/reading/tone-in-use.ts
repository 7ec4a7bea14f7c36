/** By which tone curve a photo's light is counted: a sweep's, that of its raw file, or the kit's. */
import { computed, type ReadonlySignal } from '@preact/signals'
import { curveAge } from '../../light/exposure-sweep/curve-ageing.ts'
import { curveStanding } from './curve-standing.ts'
import type { CurveInUse } from './photo-meaning.ts'
import type { PhotoSlot } from './photo-slot.ts'
import type { RawPairModel } from './raw-pair-model.ts'
import type { KitOfReading } from './reading-model-type.ts'
import type { SweepModel } from './sweep-model.ts'

interface Series {
  readonly sweep: ReadonlySignal<SweepModel | null>
  readonly pair: ReadonlySignal<RawPairModel | null>
  readonly useStoredCurve: ReadonlySignal<boolean>
}

export function toneInUse(
  kit: Pick<KitOfReading, 'curves' | 'earlierCurves'>,
  glow: PhotoSlot,
  { sweep, pair, useStoredCurve }: Series,
) {
  const standing = computed(() => {
    const of = glow.photo.value
    return of && curveStanding(of, kit.curves.value, kit.earlierCurves.value, new Date())
  })
  const curveInUse = computed<CurveInUse | null>(() => {
    const swept = sweep.value
    if (swept && swept.result.value?.kind !== 'refused') {
      const check = swept.check.value
      const holds = swept.checkOnly && check?.kind === 'checked' && check.agrees
      if (!holds || !swept.kept) return null
      const at = swept.sweep.base.facts.takenAt ?? new Date().toISOString()
      return { kept: swept.kept, movedBy: curveAge(swept.kept.foundAt, at, at).movedBy }
    }
    const paired = pair.value?.result.value
    if (pair.value && paired?.kind === 'measured') {
      return { kept: { id: pair.value.id, curve: paired.curve }, movedBy: 0 }
    }
    const found = standing.value
    return useStoredCurve.value && found?.kind === 'holds' ? found : null
  })

  /**
   * One photo is read: there is no sweep, the photos only check a curve and have done so, or the
   * sweep was refused and its best frame stands for it.
   */
  const single = computed(() => {
    const swept = sweep.value
    if (!swept || swept.result.value?.kind === 'refused') return true
    return swept.checkOnly && swept.check.value !== null
  })

  return { standing, curveInUse, single }
}
