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

/** What a jump adds to the common uncertainty is the step that it may have made. */
function jumpsOf({ ms, commonK, flags }: RecordingColumns): CurveJump[] {
  const found: CurveJump[] = []
  for (let i = 1; i < ms.length; i++) {
    if (!(flags[i]! & FLAGS['exposure changed'])) continue
    const stepK = Math.sqrt(Math.max(0, commonK[i]! ** 2 - commonK[i - 1]! ** 2))
    found.push({ seconds: ms[i]! / 1000, stepK: Number.isFinite(stepK) ? stepK : 0 })
  }
  return found
}
