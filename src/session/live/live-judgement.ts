import type { BalanceState } from '../../estimate/types.ts'
import type { Region } from '../../light/image.ts'
import { keepInside, type Size } from '../../light/region-geometry.ts'
import type { LiveCamera } from '../../sources/live/live-camera.ts'
import type { BalanceLock } from '../../sources/live/lock.ts'

/** What stands in the way of a figure, or weakens it. */
export type LiveTrouble =
  | 'no glow'
  | 'too small'
  | 'clipped'
  | 'too dark'
  | 'moving'
  | 'flicker'
  | 'below range'
  | 'above range'
  | 'reading'
  /** What looks at the pictures has failed. */
  | 'not read'
  /** No pictures come: a call, another app. */
  | 'paused'

/** A new region only where the glow has gone on: one that jitters would restart the mean. */
export function hasMoved(before: Region | null, after: Region): boolean {
  if (!before) return true
  const dx = after.x + after.width / 2 - before.x - before.width / 2
  const dy = after.y + after.height / 2 - before.y - before.height / 2
  const side = Math.min(before.width, before.height)
  const grown = Math.max(after.width / before.width, after.height / before.height)
  const shrunk = Math.min(after.width / before.width, after.height / before.height)
  return Math.hypot(dx, dy) > 0.25 * side || grown > 1.5 || shrunk < 0.75
}

export const sameRegion = (a: Region | null, b: Region) =>
  a !== null && a.x === b.x && a.y === b.y && a.width === b.width && a.height === b.height

export function absenceTrouble(absence: string | null): LiveTrouble {
  if (absence === 'all clipped') return 'clipped'
  if (absence === 'all black') return 'too dark'
  return absence === 'too small' ? 'too small' : 'no glow'
}

/** A sight keeps its share of a picture that has turned, and its size. */
export const turnedSight = (sight: Region, before: Size, next: Size): Region =>
  keepInside(
    {
      ...sight,
      x: (sight.x * next.width) / before.width,
      y: (sight.y * next.height) / before.height,
    },
    next,
  )

/** Why a found glow gives no number. */
export const refusalTrouble = (code: string | undefined): LiveTrouble =>
  code === 'clipped' ? 'clipped' : code === 'dark' ? 'too dark' : 'too small'

/** Within this of 6500 K a locked balance is the daylight preset. */
const DAYLIGHT = { kelvin: 6500, within: 600 }

/** What the locks mean for the estimate: only what is known to stand still counts as locked. */
export function balanceOf(
  locks: BalanceLock | null,
  camera: Pick<LiveCamera, 'settings'>,
): BalanceState {
  if (locks?.whiteBalance === 'locked') {
    const kelvin = locks.colourTemperatureK
    if (kelvin === null) return { kind: 'locked', colourTemperatureK: null }
    const daylight = Math.abs(kelvin - DAYLIGHT.kelvin) < DAYLIGHT.within
    return { kind: daylight ? 'daylight' : 'locked', colourTemperatureK: kelvin }
  }
  const mode = camera.settings().whiteBalanceMode
  const kind = mode === 'continuous' || locks?.whiteBalance === 'drifts' ? 'automatic' : 'unknown'
  return { kind, colourTemperatureK: null }
}
