import { stepAtJump } from '../../estimate/recording/exposure-jumps.ts'
import type { CurveJump, HeatCurve } from '../../estimate/recording/heat-curve.ts'
import { FLAGS, type RecordingColumns } from '../../log/recordings/columns.ts'

/** The columns of a recording as the curve that is read. */
export const curveOf = (columns: RecordingColumns): HeatCurve => ({
  seconds: Float64Array.from(columns.ms, (value) => value / 1000),
  temperatureK: columns.temperatureK,
  noiseK: columns.noiseK,
  commonK: columns.commonK,
  lnRed: columns.lnRed,
  jumps: jumpsOf(columns),
})

/**
 * A jump may have made the step that the curve shows there. Not by the common uncertainty, which in a
 * curve set by heats is larger on the side away from them, or on neither.
 */
function jumpsOf({ ms, temperatureK, flags }: RecordingColumns): CurveJump[] {
  const found: CurveJump[] = []
  flags.forEach((flag, i) => {
    if (flag & FLAGS['exposure changed'])
      found.push({ seconds: ms[i]! / 1000, stepK: stepAtJump(temperatureK, i) })
  })
  return found
}
