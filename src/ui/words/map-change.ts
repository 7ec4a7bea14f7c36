/** What a later map less an earlier one says, in words. */
import type { ChangeSummary } from '../../estimate/map/map-change.ts'
import { plusMinusDifference, signedPlusMinus } from './heat-map.ts'
import { percent } from './percent.ts'

export const MAP_CHANGE_WORDS = {
  summary: 'Map of the change: where it got hotter',
  withKept: 'Compare with a kept map of this view',
  keptMap: 'Kept map',
  looking: 'Looking in the log …',
  noneKept:
    'No kept map of a picture of this size. Save this reading: its map is kept for the next picture from the same stand.',
  making: 'Subtracting …',
  failed: 'The maps could not be subtracted. Open this page again.',
  noFigure: 'One of the two has no temperature to compare.',
  tooFew: 'Too few places were read in both pictures. Take both from the same stand.',
  otherView:
    'The outlines do not fit on each other. Only two pictures of one view can be subtracted: same stand, same zoom, piece not moved.',
  otherSize:
    'The two pictures differ in size. Only two pictures of one view can be subtracted: same camera, same zoom.',
  unreadable: 'One of the two maps cannot be shown: it was damaged.',
  whole: 'Middle of the view',
  places: 'One place against it',
  grey: 'Grey: no change beyond its ±.',
  caution: 'Assumes the same surface before and after: new scale may look like heat.',
} as const

/** Signed also where it does not stand out: the interval lies about it. */
export const changeFigure = signedPlusMinus

/** @param against the middle of the view, which is then taken as unchanged */
export function changeSentences(
  { hotter, cooler, most, least }: ChangeSummary,
  change: { readonly changeK: Float32Array; readonly uncertaintyK: Float32Array },
  against: boolean,
): string[] {
  const than = against ? ' than the middle of the view' : ''
  const at = (cell: number) =>
    plusMinusDifference(change.changeK[cell]!, change.uncertaintyK[cell]!)
  if (most === null && least === null) {
    return [against ? 'It changed evenly: no place stands out.' : 'No place changed beyond its ±.']
  }
  return [
    ...(most === null ? [] : [`Hotter${than} on ${percent(hotter)}, by up to ${at(most)} ▲.`]),
    ...(least === null ? [] : [`Cooler${than} on ${percent(cooler)}, by up to ${at(least)} ▼.`]),
    `No change shown on ${percent(Math.max(1 - hotter - cooler, 0))}.`,
  ]
}

export const shiftSentence = (pixels: number): string | null =>
  pixels < 1
    ? null
    : `The later picture is displaced by ${Math.round(pixels)} pixels and was laid on the earlier one.`
