import { CHECK_LEAVES } from './check-tone-curve.ts'

/**
 * Camera makers change their pictures with updates a few times a year (common practice); where the
 * file names its software a change is seen at once, where it does not only a check shows it.
 */
const STALE_DAYS = 180
/**
 * ln(G/R) by which a curve that nobody has checked may have moved: half of what one step of a usual
 * contrast setting (8 %) does to a glow of ln(G/R) = -2. Judgement, not measured.
 */
export const UNCHECKED_CURVE = 0.08
const DAY_MS = 86_400_000

export interface CurveAge {
  /** Days since the curve was found or last checked; infinite where neither has a date. */
  readonly ageDays: number
  readonly stale: boolean
  /** Standard uncertainty of ln(G/R) that the age adds. */
  readonly movedBy: number
}

/**
 * What a stored tone curve may have moved by since it was found or last checked.
 *
 * @param foundAt, checkedAt, at ISO 8601; checkedAt null where it was never checked
 */
export function curveAge(foundAt: string, checkedAt: string | null, at: string): CurveAge {
  const sinceFound = daysBetween(foundAt, at)
  const ageDays = Math.min(sinceFound, daysBetween(checkedAt ?? '', at))
  const stale = ageDays > STALE_DAYS
  const movedBy = stale ? UNCHECKED_CURVE : sinceFound > STALE_DAYS ? CHECK_LEAVES : 0
  return { ageDays, stale, movedBy }
}

function daysBetween(from: string, to: string): number {
  const days = Math.abs(Date.parse(to) - Date.parse(from)) / DAY_MS
  return Number.isFinite(days) ? days : Number.POSITIVE_INFINITY
}
