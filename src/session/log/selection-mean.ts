import { currentResult } from '../../log/schema/reading-schema.ts'
import type { Reading } from '../../log/schema/types.ts'
import { type SelectionStatistics, statisticsOf } from '../../log/statistics/statistics.ts'

export interface SelectionMean {
  /** Null when nothing of the selection has a temperature. */
  readonly statistics: SelectionStatistics | null
  /** What was left out, and why. */
  readonly leftOut: {
    /** "Below" says no temperature. */
    readonly bounds: number
    readonly withoutFigure: number
    /** Simulated or made up, beside measured ones. */
    readonly madeUp: number
    readonly damaged: number
  }
}

/**
 * The mean of a selection with the right weights. Simulated and made-up readings are never mixed
 * with measured ones: where there are both, the measured ones count.
 *
 * @param asked how many were chosen; those that could not be read are missing from `readings`
 */
export function meanOfReadings(readings: readonly Reading[], asked: number): SelectionMean {
  const measured = readings.filter(({ simulated, demo }) => !simulated && !demo)
  const counted = measured.length > 0 ? measured : readings
  const results = counted.map(currentResult)
  const temperatures = results.filter((result) => result.kind === 'temperature')
  return {
    statistics: statisticsOf(temperatures),
    leftOut: {
      bounds: results.filter(({ kind }) => kind === 'upper bound').length,
      withoutFigure: results.filter(({ kind }) => kind === 'none').length,
      madeUp: readings.length - counted.length,
      damaged: asked - readings.length,
    },
  }
}
