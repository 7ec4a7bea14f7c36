import { useSignal } from '@preact/signals'
import { useMemo } from 'preact/hooks'
import type { ListModel } from '../../../session/log/list-model.ts'
import { olderReadings, recomputeAll } from '../../../session/log/recompute-all.ts'
import { useServices } from '../../../session/services.ts'
import { sayFailure } from '../../../ui/say-failure.ts'
import { recomputeReason } from '../../../ui/words/log-entry.ts'
import {
  OLDER_WORDS,
  olderWords,
  progressWords,
  recomputedWords,
} from '../../../ui/words/older-readings.ts'
import css from '../log.module.css'

/** Readings by an older method: computed again on wish, all at once, with by how much they moved. */
export function OlderReadings({ model }: { model: ListModel }) {
  const { log } = useServices()
  /** What is under way or done; null before. */
  const words = useSignal<string | null>(null)
  const busy = useSignal(false)
  const untouched = useSignal<readonly string[]>([])
  const view = model.view.value
  const older = useMemo(() => (view ? olderReadings(view) : []), [view])
  const ids = older.filter((id) => !untouched.value.includes(id))

  const run = async () => {
    busy.value = true
    try {
      const done = await recomputeAll(await log, ids, recomputeReason, (count) => {
        words.value = progressWords(count, ids.length)
      })
      untouched.value = [...untouched.value, ...done.left]
      words.value = recomputedWords(done)
    } catch (error) {
      words.value = null
      sayFailure(error)
    }
    busy.value = false
  }
  return (
    <>
      {words.value !== null && (
        <p class="card" role="status">
          {words.value}
        </p>
      )}
      {!busy.value && ids.length > 0 && (
        <div class={css.reminder}>
          <span>{olderWords(ids.length)}</span>
          <button type="button" onClick={() => void run()}>
            {OLDER_WORDS.again}
          </button>
        </div>
      )}
    </>
  )
}
