import { courseByLevel, rateShare } from '../../estimate/recording/course-by-level.ts'
import { FLAGS, type RecordingColumns } from '../../log/recordings/columns.ts'
import { markJumps } from './mark-jumps.ts'

/** What decides how well the course of a recording is known. */
export interface CourseTerms {
  /** The tone curve was known all the time. */
  readonly swept: boolean
  /** By the camera, or as the person says. */
  readonly exposureLocked: boolean
}

/**
 * What only the whole of a recording shows, in place: changed exposure is marked; where there is none
 * and exposure was locked, the course follows the brightness.
 *
 * @returns relative standard uncertainty of how fast the curve goes
 */
export function settleCourse(
  columns: RecordingColumns,
  { swept, exposureLocked }: CourseTerms,
): number {
  markJumps(columns)
  const jumps = columns.flags.some((flags) => flags & FLAGS['exposure changed'])
  const byLevel = exposureLocked && !jumps
  if (byLevel) {
    const seconds = Float64Array.from(columns.ms, (ms) => ms / 1000)
    courseByLevel({ ...columns, seconds }, swept)
  }
  return rateShare(columns, byLevel ? 'level' : 'ratio', swept)
}
