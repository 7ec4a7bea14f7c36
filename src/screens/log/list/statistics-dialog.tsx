import { useSignal } from '@preact/signals'
import { useEffect, useRef } from 'preact/hooks'
import type { SelectionMean } from '../../../session/log/selection-mean.ts'
import { useServices } from '../../../session/services.ts'
import { logSentence } from '../../../ui/words/log-errors.ts'
import { ProgressLine } from '../progress-line.tsx'
import { StatisticsFacts } from './statistics-facts.tsx'

/** The mean of the readings chosen, with what it rests on. */
export function StatisticsDialog({
  ids,
  onClose,
}: {
  ids: readonly string[]
  onClose: () => void
}) {
  const { log } = useServices()
  const dialog = useRef<HTMLDialogElement>(null)
  const mean = useSignal<SelectionMean | null>(null)
  const done = useSignal(0)
  const failure = useSignal<string | null>(null)

  // For the readings chosen when it was opened.
  useEffect(() => {
    dialog.current?.showModal()
    const stop = new AbortController()
    const work = {
      signal: stop.signal,
      progress: (count: number) => {
        done.value = count
      },
    }
    Promise.all([
      log.then((opened) => opened.heads(ids, work)),
      import('../../../session/log/selection-mean.ts'),
    ])
      .then(([readings, { meanOfReadings }]) => {
        mean.value = meanOfReadings(readings, ids.length)
      })
      .catch((error: unknown) => {
        if (!stop.signal.aborted) failure.value = logSentence(error)
      })
    return () => stop.abort()
  }, [])

  return (
    <dialog ref={dialog} aria-label="Mean of the readings chosen" onClose={onClose}>
      <form method="dialog" class="stack">
        {failure.value && <p role="alert">{failure.value}</p>}
        {!mean.value && !failure.value && (
          <ProgressLine label="Reading the log" done={done.value} total={ids.length} />
        )}
        {mean.value && <StatisticsFacts mean={mean.value} />}
        <button type="submit">{mean.value ? 'Done' : 'Stop'}</button>
      </form>
    </dialog>
  )
}
