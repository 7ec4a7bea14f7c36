import { exposureJumps, stepAtJump } from '../../estimate/recording/exposure-jumps.ts'
import { FLAGS, type RecordingColumns } from '../../log/recordings/columns.ts'

/**
 * Marks where the camera changed its exposure by itself, in place; from there on the whole curve is
 * as much less certain as it stepped there.
 */
export function markJumps(columns: RecordingColumns): RecordingColumns {
  const { temperatureK, commonK, flags } = columns
  for (const at of exposureJumps(columns.lnRatio, columns.lnRed)) {
    flags[at]! |= FLAGS['exposure changed']
    const step = stepAtJump(temperatureK, at)
    for (let i = at; i < commonK.length; i++) commonK[i] = Math.hypot(commonK[i]!, step)
  }
  return columns
}
