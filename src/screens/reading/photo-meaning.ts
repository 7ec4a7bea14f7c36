import type { BalanceState, Linearity } from '../../estimate/types.ts'
import type { SweepMeasurement } from '../../light/exposure-sweep/sweep-result.ts'
import { toneCurveUncertainty } from '../../light/exposure-sweep/tone-curve.ts'
import type { PhotoMeasurement } from '../../light/measure-photo.ts'
import { deviceZone, momentOf } from '../../log/moment.ts'
import type { PhotoFacts } from '../../sources/files/photo-facts.ts'
import type { Photo } from '../../sources/photo/photo.ts'
import type { KeptCurve } from '../kit/kit-model.ts'

/** What the facts in a photo's file mean for the estimate. */

const joined = (parts: readonly (string | null | undefined)[]): string =>
  parts.filter((part) => part).join(' · ')

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

/** A sweep recovered its own curve: what is left uncertain is stated with it. */
export function linearityOfSweep(sweep: SweepMeasurement): Linearity {
  return {
    kind: 'sweep',
    curveId: 'sweep in hand',
    standardUncertaintyGreen: sweep.standardUncertaintyGreen,
    standardUncertaintyBlue: sweep.standardUncertaintyBlue,
  }
}

/** The tone curve of the kit that a sweep has found for this camera, lens and software. */
export function curveOf(photo: Photo, curves: readonly KeptCurve[]): KeptCurve | null {
  const id = curveIdOf(photo.facts)
  const fits = ({ curveId, curve }: KeptCurve) => curveId === id && curve.space === photo.space
  return photo.channels === 'display-p3' ? (curves.find(fits) ?? null) : null
}

/** How this photo's pixels became linear light. */
export function linearityOf(
  photo: Photo,
  measurement: PhotoMeasurement,
  kept: KeptCurve | null,
): Linearity {
  if (photo.channels === 'camera') return { kind: 'raw' }
  if (kept) {
    const { green, blue } = toneCurveUncertainty(kept.curve, measurement.storedLevels)
    return {
      kind: 'sweep',
      curveId: kept.id,
      standardUncertaintyGreen: green,
      standardUncertaintyBlue: blue,
    }
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
