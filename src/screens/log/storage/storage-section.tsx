import { useSignal } from '@preact/signals'
import { useEffect, useRef } from 'preact/hooks'
import type { StatusModel } from '../../../session/log/status-model.ts'
import { useServices } from '../../../session/services.ts'
import { sayFailure } from '../../../ui/say-failure.ts'
import { say } from '../../../ui/spoken.tsx'
import { AskToKeep, StorageFacts } from '../../../ui/storage-facts.tsx'
import { showLocalMoment } from '../../../ui/words/dates.ts'
import { readingsWord, showCount } from '../../../ui/words/log.ts'
import { checkedSentence } from '../../../ui/words/storage.ts'
import { ProgressLine } from '../progress-line.tsx'
import { BackupFileSection } from './backup-file-section.tsx'

/** Whether the browser keeps the log, how much room it takes, and what no backup holds yet. */
export function StorageSection({ status }: { status: StatusModel }) {
  const current = status.status.value
  if (!current) return null
  const { lastBackup, unsavedElsewhere } = current
  return (
    <section class="card stack">
      <h2>On this device</h2>
      <dl class="facts">
        <StorageFacts what="The log" status={current} />
        <dt>Last backup</dt>
        <dd>
          {lastBackup
            ? `${showLocalMoment(lastBackup.at)}, ${readingsWord(lastBackup.readings)}`
            : 'none yet'}
        </dd>
        <dt>On this device only</dt>
        <dd>
          {unsavedElsewhere === 0 ? 'nothing' : `${showCount(unsavedElsewhere)} new or changed`}
        </dd>
      </dl>
      <AskToKeep model={status} />
      <BackupFileSection />
      <CheckRecords />
    </section>
  )
}

/** Reads every record and its picture, and says which are not sound. */
function CheckRecords() {
  const { log } = useServices()
  const progress = useSignal<{ done: number; total: number } | null>(null)
  const stopping = useRef<AbortController | null>(null)
  useEffect(() => () => stopping.current?.abort(), [])
  const check = async () => {
    const stop = new AbortController()
    stopping.current = stop
    progress.value = { done: 0, total: 0 }
    try {
      const damaged = await (await log).check({
        signal: stop.signal,
        progress: (done, total) => {
          progress.value = { done, total }
        },
      })
      say(checkedSentence(damaged.length))
    } catch (error) {
      if (!stop.signal.aborted) sayFailure(error)
    } finally {
      progress.value = null
    }
  }
  if (progress.value) {
    return (
      <ProgressLine label="Checking" {...progress.value} onStop={() => stopping.current?.abort()} />
    )
  }
  return (
    <button type="button" onClick={() => void check()}>
      Check every record
    </button>
  )
}
