import type { HeatCurve } from '../../estimate/recording/heat-curve.ts'
import type { RecordingColumns } from '../../log/recordings/columns.ts'

/** The columns of a recording as the curve that is read. */
export const curveOf = ({ ms, temperatureK, noiseK, commonK }: RecordingColumns): HeatCurve => ({
  seconds: Float64Array.from(ms, (value) => value / 1000),
  temperatureK,
  noiseK,
  commonK,
})
