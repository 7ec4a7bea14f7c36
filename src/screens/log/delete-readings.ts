import type { Log } from '../../log/schema/types.ts'
import { sayFailure } from '../../ui/say-failure.ts'
import { say } from '../../ui/spoken.tsx'
import { readingsWord } from '../../ui/words/log.ts'

/** Deletes, and offers to undo it; for a day they also lie under "Deleted lately". */
export async function deleteReadings(log: Promise<Log>, ids: readonly string[]): Promise<void> {
  const opened = await log
  const undo = await opened.remove(ids)
  say(`${readingsWord(undo.ids.length)} deleted.`, {
    label: 'Undo',
    run: () => {
      opened
        .restore(undo)
        .then(() => say(`${readingsWord(undo.ids.length)} brought back.`), sayFailure)
    },
  })
}
