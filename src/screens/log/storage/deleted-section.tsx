import { useSignal } from '@preact/signals'
import { useEffect } from 'preact/hooks'
import type { Summary } from '../../../log/schema/types.ts'
import { useServices } from '../../../session/services.ts'
import { sayFailure } from '../../../ui/say-failure.ts'
import { say } from '../../../ui/spoken.tsx'
import { readingsWord } from '../../../ui/words/log.ts'
import { SummaryValue } from '../list/log-row.tsx'

/** More than this are brought back all at once. */
const ROWS_MOST = 20

/** What was deleted within a day can still be brought back. */
export function DeletedSection() {
  const { log } = useServices()
  const removed = useSignal<readonly Summary[]>([])
  useEffect(() => {
    let stop: (() => void) | undefined
    let gone = false
    const read = async () => {
      const found = await (await log).removed()
      if (!gone) removed.value = found
    }
    log
      .then((opened) => {
        if (gone) return
        stop = opened.subscribe((change) => {
          if (change.kind === 'readings' || change.kind === 'everything') {
            read().catch(() => undefined)
          }
        })
        return read()
      })
      // Without a log nothing was deleted.
      .catch(() => undefined)
    return () => {
      gone = true
      stop?.()
    }
  }, [log, removed])

  const restore = (ids: readonly string[]) => {
    log
      .then((opened) => opened.restore({ ids }))
      .then(() => say(`${readingsWord(ids.length)} brought back.`), sayFailure)
  }
  const all = removed.value
  if (all.length === 0) return null
  return (
    <details>
      <summary>Deleted lately ({all.length})</summary>
      <div class="inside">
        <p class="small soft">Gone for good a day after it was deleted.</p>
        <ul class="plain-list">
          {all.slice(0, ROWS_MOST).map((summary) => (
            <li key={summary.id} class="row">
              <span class="grow">
                <SummaryValue summary={summary} />
                <br />
                <span class="soft">{summary.object || 'no name'}</span>
              </span>
              <button type="button" onClick={() => restore([summary.id])}>
                Bring back
              </button>
            </li>
          ))}
        </ul>
        {all.length > 1 && (
          <button type="button" onClick={() => restore(all.map(({ id }) => id))}>
            Bring all {all.length} back
          </button>
        )}
      </div>
    </details>
  )
}
