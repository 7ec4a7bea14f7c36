import { Notices } from '../../../ui/notices.tsx'
import { showLocalDay } from '../../../ui/words/dates.ts'
import { noticeOfMissing, noticesOfStatus } from '../../../ui/words/log-errors.ts'
import type { StatusModel } from '../keeping/status-model.ts'
import { hrefOfPlace } from '../log-place.ts'

/** What the person should know of the log's safety before anything else; mostly nothing. */
export function LogNotices({ status, here }: { status: StatusModel; here: 'list' | 'keeping' }) {
  const current = status.status.value
  if (!current) return null
  const { missing } = current
  const notices = noticesOfStatus(current)
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
      {notices.length > 0 && <Notices notices={notices} />}
      {here === 'list' && (missing || notices.length > 0) && (
        <a class="button" href={hrefOfPlace({ kind: 'keeping' })}>
          {missing ? 'Bring a backup in' : 'Make a backup'}
        </a>
      )}
    </>
  )
}
