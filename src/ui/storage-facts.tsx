import type { StorageStatus } from '../log/schema/storage-status.ts'
import type { StatusModel } from '../session/log/status-model.ts'
import { sayFailure } from './say-failure.ts'
import { say } from './spoken.tsx'
import { showBytes } from './words/log.ts'
import { askedSentence, PERSISTENCE_WORDS } from './words/storage.ts'

/** Rows of facts: whether the browser keeps what lies here, and how much room it takes. */
export function StorageFacts({ what, status }: { what: string; status: StorageStatus }) {
  const { persisted, usageBytes, quotaBytes } = status
  const kept = persisted === null ? 'unknown' : persisted ? 'kept' : 'mayGo'
  return (
    <>
      <dt>{what}</dt>
      <dd>{PERSISTENCE_WORDS[kept]}</dd>
      {usageBytes !== null && quotaBytes !== null && (
        <>
          <dt>Used</dt>
          <dd>
            {showBytes(usageBytes)} of {showBytes(quotaBytes)}
          </dd>
        </>
      )}
    </>
  )
}

/** Where the browser may clear it by itself. */
export function AskToKeep({ model }: { model: StatusModel }) {
  if (model.status.value?.persisted !== false) return null
  return (
    <button
      type="button"
      onClick={() => {
        model.askToKeep().then((granted) => say(askedSentence(granted)), sayFailure)
      }}
    >
      Ask the browser to keep it
    </button>
  )
}
