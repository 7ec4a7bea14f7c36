import type { StatusModel } from '../../../session/log/status-model.ts'
import { Notices } from '../../../ui/notices.tsx'
import { showLocalDay } from '../../../ui/words/dates.ts'
import { noticeOfMissing, noticeOfRestored, noticesOfStatus } from '../../../ui/words/log-errors.ts'
import { listReminder } from '../../../ui/words/storage.ts'
import css from '../log.module.css'
import { hrefOfPlace } from '../log-place.ts'

/** What the person should know of the log's safety before anything else; mostly nothing. */
export function LogNotices({ status, here }: { status: StatusModel; here: 'list' | 'keeping' }) {
  const current = status.status.value
  if (!current) return null
  const { missing, restored, nearlyFull, stopped, clockBehind } = current
  // In the list a reminder is one line, a warning is whole.
  const whole = here === 'keeping' || nearlyFull || stopped || clockBehind !== null
  return (
    <>
      {(missing || restored) && (
        <div class="stack">
          <Notices
            notices={[
              ...(missing ? [noticeOfMissing(missing, showLocalDay)] : []),
              ...(restored ? [noticeOfRestored(restored, showLocalDay)] : []),
            ]}
          />
          <button type="button" onClick={() => void status.dismissMissing()}>
            I have read this
          </button>
        </div>
      )}
      {whole && <Notices notices={noticesOfStatus(current)} />}
      {here === 'list' &&
        (missing || restored || nearlyFull || stopped || current.remindBackup) && (
          <a class={css.reminder} href={hrefOfPlace({ kind: 'keeping' })}>
            <span>{listReminder(current)}</span>
            <span aria-hidden="true">›</span>
          </a>
        )}
    </>
  )
}
