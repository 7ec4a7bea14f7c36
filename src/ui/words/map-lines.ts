/** What lines over a map say. */
import type { HeatDifference } from '../../estimate/map/heat-map.ts'
import type { ProfilePair } from '../../estimate/map/profile-pair.ts'
import { showPlusMinus } from '../temperature.ts'
import { plusMinusDifference, standsOut } from './heat-map.ts'

export const LINE_WORDS = {
  how: 'Tap to move the nearest corner. Arrow keys move it by one cell.',
  addCorner: 'Add corner',
  removeCorner: 'Remove',
  removeLong: 'Remove this corner',
  nextCorner: 'Next',
  nextLong: 'Next corner',
  nothing: 'Nothing can be read along this line.',
  nothingInCommon: 'The lines share no place that was read.',
  addSecond: 'Compare with a second line',
  removeSecond: 'Remove line B',
} as const

/** The largest difference along the middle 80 % of a line. */
export function soakSentence(
  { differenceK, standardUncertaintyK }: HeatDifference,
  letter: string | null,
): string {
  const along = letter === null ? 'Along the middle 80 %' : `Line ${letter}, middle 80 %`
  return standsOut(differenceK, standardUncertaintyK)
    ? `${along}: ${plusMinusDifference(differenceK, standardUncertaintyK)} between hottest and coolest.`
    : `${along}: soaked, no difference above ${showPlusMinus(standardUncertaintyK)}.`
}

/** Line B against line A. */
export function pairSentences({ mean, most }: ProfilePair): string[] {
  const hotter = ({ differenceK }: HeatDifference) => (differenceK > 0 ? 'hotter' : 'cooler')
  const by = ({ differenceK, standardUncertaintyK }: HeatDifference) =>
    plusMinusDifference(differenceK, standardUncertaintyK)
  const clear = (of: HeatDifference) => standsOut(of.differenceK, of.standardUncertaintyK)
  return [
    clear(mean)
      ? `B is ${by(mean)} ${hotter(mean)} than A on average.`
      : `A and B are equal on average, ${showPlusMinus(mean.standardUncertaintyK)}.`,
    ...(clear(most)
      ? [`Furthest apart ${Math.round(100 * most.share)} % along: B ${by(most)} ${hotter(most)}.`]
      : []),
  ]
}
