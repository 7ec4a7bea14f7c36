/** How a table of transmission writes its values. */
export type TransmissionUnit = 'share' | 'percent'

/** Of one, in one unit. */
export const SHARE_PER_UNIT: Record<TransmissionUnit, number> = { share: 1, percent: 0.01 }

/**
 * The greatest value that still reads as a share, wrong as it is; a pane with less than this in
 * percent passes no glow to speak of.
 */
const GREATEST_SHARE = 1.5

/** The unit by the column's heading, else by the size of the values. */
export function transmissionUnit(
  values: readonly number[],
  heading: string | null,
): TransmissionUnit {
  if (heading !== null && /%|per ?cent/i.test(heading)) return 'percent'
  return values.some((value) => value > GREATEST_SHARE) ? 'percent' : 'share'
}
