import { useEffect } from 'preact/hooks'
import { sayFailure } from '../say-failure.ts'
import { useServices } from '../services.ts'
import { takenAtOf } from './photo-meaning.ts'
import type { SweepModel } from './sweep-model.ts'

/** Writes the latest check of a tone curve to its entry in the kit, so that its age is known. */
export function useNotedCheck(sweep: SweepModel): void {
  const { log, now } = useServices()
  const check = sweep.check.value
  useEffect(() => {
    if (!sweep.kept || check?.kind !== 'checked') return
    const { id } = sweep.kept
    const { residual, agrees } = check
    const note = async () => {
      const { kit } = await log
      const data = (await kit.get(id))?.data
      if (typeof data !== 'object' || data === null || Array.isArray(data)) return
      const at = takenAtOf(sweep.sweep.base.facts, now()).iso
      await kit.change(id, { data: { ...data, check: { at, residual, agrees } } })
    }
    note().catch(sayFailure)
  }, [sweep, check])
}
