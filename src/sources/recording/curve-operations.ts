import type { Readings } from '../../estimate/recording/heat-curve.ts'
import type { Plateau } from '../../estimate/recording/plateaus.ts'

/** What takes too long for the page. */
export type CurveOperations = {
  plateaus: readonly [Readings, Plateau[]]
}
