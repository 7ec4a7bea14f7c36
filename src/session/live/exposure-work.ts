import { type ReadonlySignal, signal } from '@preact/signals'
import type { ToneCurveCheck } from '../../light/exposure-sweep/check-tone-curve.ts'
import type { SweepResult } from '../../light/exposure-sweep/sweep-result.ts'
import { newUuid } from '../../log/schema/uuid.ts'
import { checkCurve, findExposure, runSweep, UNIT_SECONDS } from './live-controls.ts'
import type { LiveModel } from './live-model-type.ts'

/** Work with the exposure that takes seconds, one at a time. */
export interface ExposureWork {
  readonly busy: ReadonlySignal<'exposure' | 'sweep' | null>
  readonly progress: ReadonlySignal<number>
  readonly failed: ReadonlySignal<boolean>
  readonly result: ReadonlySignal<SweepResult | null>
  /** Seconds that were found; null before. */
  readonly exposure: ReadonlySignal<number | null>
  /** Whether the kit's curve holds for this stream as it is now; one that does not is not used. */
  readonly check: ReadonlySignal<ToneCurveCheck | null>
  begin(what: 'exposure' | 'sweep'): Promise<void>
}

/** @param onCheck told of each check of a kept curve, by the curve's id */
export function createExposureWork(
  model: LiveModel,
  onCheck: (id: string, check: ToneCurveCheck) => void,
): ExposureWork {
  const busy = signal<'exposure' | 'sweep' | null>(null)
  const progress = signal(0)
  const failed = signal(false)
  const result = signal<SweepResult | null>(null)
  const exposure = signal<number | null>(null)
  const check = signal<ToneCurveCheck | null>(null)
  const { curve, desk } = model

  /** A curve of the kit holds for the settings it was made with: two exposures tell. */
  const checkStored = async () => {
    const kept = curve.kept.peek()
    if (!kept || curve.swept.peek()) return
    const found = await checkCurve(model, kept.curve)
    check.value = found
    if (found?.kind === 'checked' && !found.agrees) curve.useStored.value = false
    if (found) onCheck(kept.id, found)
  }

  return {
    busy,
    progress,
    failed,
    result,
    exposure,
    check,
    async begin(what) {
      if (busy.peek()) return
      busy.value = what
      failed.value = false
      progress.value = 0
      try {
        const found = await findExposure(model, desk.mainsHz.peek())
        exposure.value = found === null ? null : found * UNIT_SECONDS
        if (what === 'exposure') return await checkStored()
        const swept = await runSweep(model, (share) => {
          progress.value = share
        })
        result.value = swept
        if (swept?.kind === 'measured') curve.swept.value = { id: newUuid(), curve: swept.curve }
      } catch {
        failed.value = true
      } finally {
        busy.value = null
      }
    },
  }
}
