import type { StatusModel } from '../../../session/log/status-model.ts'
import { Notices } from '../../../ui/notices.tsx'
import { showLocalDay } from '../../../ui/words/dates.ts'
import { noticeOfMissing, noticesOfStatus } from '../../../ui/words/log-errors.ts'
import { listReminder } from '../../../ui/words/storage.ts'
import { hrefOfPlace } from '../log-place.ts'

/** What the person should know of the log's safety before anything else; mostly nothing. */
export function LogNotices({ status, here }: { status: StatusModel; here: 'list' | 'keeping' }) {
  const current = status.status.value
  if (!current) return null
  const { missing, nearlyFull } = current
  // In the list a reminder is one line, a warning is whole.
  const whole = here === 'keeping' || nearlyFull
  return (
    <>
      {missing && (
        <div class="stack">
          <Notices notices={[noticeOfMissing(missing, showLocalDay)]} />
          <button type="button" onClick={() => void status.dismissMissing()}>
            I have read this
          </button>
        </div>
      )}
      {whole && <Notices notices={noticesOfStatus(current)} />}
      {here === 'list' && (missing || nearlyFull || current.remindBackup) && (
        <a class="reminder" href={hrefOfPlace({ kind: 'keeping' })}>
          <span>{listReminder(current)}</span>
          <span aria-hidden="true">›</span>
        </a>
      )}
    </>
  )
}
