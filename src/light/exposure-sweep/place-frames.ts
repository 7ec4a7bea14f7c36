import type { Region } from '../image.ts'
import { findShift, LARGEST_SHIFT } from './align.ts'
import type { SweepFrame } from './sweep-result.ts'

/** Correlation below which a frame shows something else. */
const LEAST_CORRELATION = 0.9

export type Places =
  | { readonly kind: 'placed'; readonly shifts: readonly { dx: number; dy: number }[] }
  | { readonly kind: 'moved'; readonly values: Record<string, number> }

/** Each frame against the one with the most structure; dark ones lie where their neighbour does. */
export function placeFrames(frames: readonly SweepFrame[], region: Region): Places {
  const order = frames.map((_, k) => k)
  const byExposure = [...order].sort(
    (a, b) => frames[b]!.relativeExposure - frames[a]!.relativeExposure,
  )
  // The second brightest is seldom clipped and has the whole range of codes.
  const reference = byExposure[Math.min(1, byExposure.length - 1)]!
  const found = frames.map((f, k) =>
    k === reference
      ? { dx: 0, dy: 0, correlation: 1 }
      : findShift(frames[reference]!.image, f.image, region),
  )
  for (const k of order) {
    const shift = found[k]
    if (!shift) continue
    const far = Math.hypot(shift.dx, shift.dy)
    if (shift.correlation < LEAST_CORRELATION || far >= LARGEST_SHIFT) {
      return {
        kind: 'moved',
        values: { frame: k, pixels: far, correlation: shift.correlation },
      }
    }
  }
  const shifts = found.map((shift, k) => {
    if (shift) return shift
    const near = order.filter((o) => found[o]).sort((p, q) => Math.abs(p - k) - Math.abs(q - k))[0]
    return near === undefined ? { dx: 0, dy: 0 } : found[near]!
  })
  return { kind: 'placed', shifts }
}
