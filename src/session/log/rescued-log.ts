import { LogError } from '../../log/schema/errors.ts'
import type { Exportable } from './export-model.ts'

/** Failures of the browser's database that leave the second copy readable. */
const LEAVING_THE_JOURNAL: readonly LogError['code'][] = [
  'storage full',
  'storage unanswered',
  'storage failed',
]

export const canBeRescued = (failure: unknown): boolean =>
  failure instanceof LogError && LEAVING_THE_JOURNAL.includes(failure.code)

/** The log as far as an export goes, read from its second copy. */
export function rescuedLog(now: () => Date): Exportable {
  return {
    async *export(format, options) {
      const { exportSecondCopy } = await import('../../log/open-log.ts')
      yield* exportSecondCopy(now, format, options)
    },
    // It counts as no backup: nothing can be noted of it.
    markBackup: async () => ({ change: 0, readings: 0, at: now().toISOString() }),
    backedUp: async () => {},
  }
}
