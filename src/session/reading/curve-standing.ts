import { curveAge, UNCHECKED_CURVE } from '../../light/exposure-sweep/curve-ageing.ts'
import type { PhotoFacts } from '../../sources/files/photo-facts.ts'
import type { Photo } from '../../sources/photo/photo.ts'
import type { EarlierCurve, StoredCurve } from '../kit/stored-items.ts'
import { cameraIdOf, curveIdOf, deviceIdOf } from './photo-meaning.ts'

/** What the kit's tone curves have to say to a photo. */
export type CurveStanding =
  | {
      readonly kind: 'holds'
      readonly kept: StoredCurve
      /** Why it is used, but counts as less certain. */
      readonly doubt: 'unchecked for long' | 'camera not named' | null
      /** Standard uncertainty of ln(G/R) that the doubt adds. */
      readonly movedBy: number
      /** Since it was found or last checked. */
      readonly ageDays: number
    }
  /** The latest check found it to be off. */
  | { readonly kind: 'failed'; readonly kept: StoredCurve; readonly at: string }
  /** There is one of this device, but the way to the picture has changed. */
  | {
      readonly kind: 'other path'
      readonly kept: StoredCurve
      readonly changed: 'lens' | 'software' | 'colour space'
    }
  | { readonly kind: 'earlier version'; readonly name: string }

/**
 * Finds the curve for a photo.
 *
 * @param now stands in for the time of a photo that does not state its own
 * @returns null where the kit holds none of this device
 */
export function curveStanding(
  photo: Pick<Photo, 'channels' | 'facts' | 'space'>,
  curves: readonly StoredCurve[],
  earlier: readonly EarlierCurve[],
  now: Date,
): CurveStanding | null {
  if (photo.channels === 'camera') return null
  const id = curveIdOf(photo.facts)
  const kept = curves.find(({ curveId, curve }) => curveId === id && curve.space === photo.space)
  if (kept) {
    const { check } = kept
    if (check && !check.agrees) return { kind: 'failed', kept, at: check.at }
    const at = photo.facts.takenAt ?? now.toISOString()
    const { ageDays, stale, movedBy } = curveAge(kept.foundAt, check?.at ?? null, at)
    const nameless = deviceIdOf(photo.facts) === ''
    const doubt = nameless ? 'camera not named' : stale ? 'unchecked for long' : null
    return { kind: 'holds', kept, doubt, ageDays, movedBy: doubt ? UNCHECKED_CURVE : movedBy }
  }
  const old = earlier.find(({ curveId }) => curveId === id)
  if (old) return { kind: 'earlier version', name: old.name }
  const near = curves.find(({ cameraId }) => ofDevice(cameraId, photo.facts))
  if (!near) return null
  const changed =
    near.curveId === id
      ? 'colour space'
      : near.cameraId === cameraIdOf(photo.facts)
        ? 'software'
        : 'lens'
  return { kind: 'other path', kept: near, changed }
}

/** Make and model as the photo states them, with whatever lens. */
function ofDevice(cameraId: string | null, facts: PhotoFacts): boolean {
  const device = deviceIdOf(facts)
  return device !== '' && cameraId !== null && `${cameraId} · `.startsWith(`${device} · `)
}
