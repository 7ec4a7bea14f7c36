import type { BudgetEntry, Result } from '../schema/reading-schema.ts'

/** A temperature as the log keeps it, whose interval lies evenly about it (k = 2). */
export function symmetricResult(
  temperatureK: number,
  standardUncertaintyK: number,
  budget: readonly BudgetEntry[],
  methodVersion: string,
): Result {
  const expandedUncertaintyK = 2 * standardUncertaintyK
  return {
    kind: 'temperature',
    temperatureK,
    standardUncertaintyK,
    expandedUncertaintyK,
    interval95K: [temperatureK - expandedUncertaintyK, temperatureK + expandedUncertaintyK],
    budget: [...budget],
    methodVersion,
  }
}
