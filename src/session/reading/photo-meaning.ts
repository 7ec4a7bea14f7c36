import { linearityByCurve } from '../../estimate/linearity-by-curve.ts'
import type { BalanceState, Linearity } from '../../estimate/types.ts'
import type { PhotoMeasurement } from '../../light/measure-photo.ts'
import { deviceZone, momentOf } from '../../log/schema/moment.ts'
import type { PhotoFacts } from '../../sources/files/photo-facts.ts'
import type { Photo } from '../../sources/photo/photo.ts'
import type { StoredCurve } from '../kit/stored-items.ts'

/** What the facts in a photo's file mean for the estimate. */

const joined = (parts: readonly (string | null | undefined)[]): string =>
  parts.filter((part) => part).join(' · ')

/** Make and model; empty where the file does not say. */
export const deviceIdOf = (facts: PhotoFacts): string => joined([facts.make, facts.model])

/** Device and lens: references count for one camera only. */
export function cameraIdOf(facts: PhotoFacts): string {
  return joined([facts.make, facts.model, facts.lens]) || 'camera not stated'
}

/** Device, lens and the software that drew the picture: one unknown tone curve. */
export function curveIdOf(facts: PhotoFacts): string {
  return joined([cameraIdOf(facts), facts.software]) || 'curve not stated'
}

/**
 * The state of a new photo's white balance: raw pixels have none, a file may say that it was
 * automatic; else what was said of the former photo holds on.
 */
export function stateOf(
  { channels, facts }: Pick<Photo, 'channels' | 'facts'>,
  before: BalanceState,
): BalanceState {
  if (channels === 'camera') return { kind: 'raw', colourTemperatureK: null }
  if (facts.whiteBalance === 'automatic') return { kind: 'automatic', colourTemperatureK: null }
  return before.kind === 'raw' ? { kind: 'unknown', colourTemperatureK: null } : before
}

/** A kept curve that a photo is read with, and what doubt of it adds to ln(G/R). */
export interface CurveInUse {
  readonly kept: Pick<StoredCurve, 'id' | 'curve'>
  readonly movedBy: number
}

/** How this photo's pixels became linear light. */
export function linearityOf(
  photo: Photo,
  measurement: PhotoMeasurement,
  used: CurveInUse | null,
): Linearity {
  if (photo.channels === 'camera') return { kind: 'raw' }
  if (used) {
    return linearityByCurve(used.kept.curve, used.kept.id, measurement.storedLevels, used.movedBy)
  }
  return {
    kind: 'single',
    curveId: curveIdOf(photo.facts),
    storedLevels: measurement.storedLevels,
    space: photo.space,
  }
}

/** The camera's time where the photo has one, else now. */
export function takenAtOf(facts: PhotoFacts, now: Date): { iso: string; zone: string } {
  const stated = facts.takenAt
  if (!stated) return momentOf(now, deviceZone())
  return /[Z+-]\d*:?\d*$/.test(stated.slice(19))
    ? { iso: stated, zone: '' }
    : momentOf(new Date(stated), deviceZone())
}
