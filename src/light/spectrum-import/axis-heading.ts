import { type Layout, splitFields } from './layout.ts'
import { axisNumber } from './number.ts'
import { type AxisHeading, unitFromHeading } from './unit.ts'

/** What the text says of its axis: in the heading of the column, behind its numbers, or above. */
export function axisHeading(
  heading: string | undefined,
  lines: readonly string[],
  firstLine: number,
  layout: Layout,
): AxisHeading | null {
  const own = heading === undefined ? null : unitFromHeading(heading)
  if (own !== null) return own
  const cell = splitFields(lines[firstLine - 1] ?? '', layout.delimiter)[0] ?? ''
  const behind = unitFromHeading(axisNumber(cell, layout.decimalMark).unit)
  if (behind !== null) return behind
  for (const line of lines.slice(Math.max(0, firstLine - HEADER_LINES), firstLine - 1)) {
    if (AXIS_WORDS.test(line)) {
      const said = unitFromHeading(line)
      if (said !== null) return said
    }
  }
  return null
}

/** Lines above the data in which the axis may be explained, and the words that say it is. */
const HEADER_LINES = 80
const AXIS_WORDS = /x[\s_-]*(?:axis|units?|label)|wave|lambda|λ|abscissa|raman|stokes/i
