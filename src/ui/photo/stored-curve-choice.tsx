import type { CurveStanding } from '../../session/reading/curve-standing.ts'
import type { ReadingModel } from '../../session/reading/reading-model-type.ts'
import { FileButton, PHOTO_TYPES } from '../file-button.tsx'
import { Notices } from '../notices.tsx'
import type { Notice } from '../words/estimate.ts'
import { STORED_CURVE } from '../words/stored-curve.ts'

/** The tone curve that the kit holds for this camera: whether it is undone, and how to check it. */
export function StoredCurveChoice({ model }: { model: ReadingModel }) {
  const standing = model.standing.value
  if (!standing || model.sweep.value) return null
  const checkable = standing.kind === 'holds' || standing.kind === 'failed'
  return (
    <>
      {standing.kind === 'holds' && (
        <label class="choice">
          <input
            type="checkbox"
            checked={model.useStoredCurve.value}
            onChange={(event) => {
              model.useStoredCurve.value = event.currentTarget.checked
            }}
          />
          <span>
            Undo the camera’s tone curve: {standing.kept.name}
            <span class="small soft"> Same camera app and settings as for the sweep only.</span>
          </span>
        </label>
      )}
      {checkable && (
        <FileButton accept={PHOTO_TYPES} multiple onFiles={(files) => void model.openSweep(files)}>
          Check it: photos two stops apart
        </FileButton>
      )}
    </>
  )
}

/** Why a kept curve is not used, or in doubt: said where nothing has to be opened. */
export function StoredCurveNotice({ model }: { model: ReadingModel }) {
  const standing = model.standing.value
  const notice = standing && !model.sweep.value ? noticeOf(standing) : null
  return notice && <Notices notices={[notice]} />
}

function noticeOf(standing: CurveStanding): Notice | null {
  switch (standing.kind) {
    case 'holds':
      if (standing.doubt === 'unchecked for long') {
        return STORED_CURVE.uncheckedForLong(standing.ageDays)
      }
      return standing.doubt && STORED_CURVE.cameraNotNamed
    case 'failed':
      return STORED_CURVE.failed(standing.kept.name, standing.at)
    case 'other path':
      return STORED_CURVE.otherPath(standing.changed)
    case 'earlier version':
      return STORED_CURVE.earlierVersion(standing.name)
  }
}
