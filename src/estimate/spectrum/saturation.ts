import type { Spectrum } from '../../light/spectrum-import/spectrum.ts'

/** A plateau has at least this many samples. */
const MIN_PLATEAU = 3
/** Beside a plateau the signal falls by at least this many of the data's own least steps. */
const FALL_STEPS = 8
/** Samples beside a saturated one that may have spilt over. */
const SPILL = 2

/**
 * Which samples a full detector has cut off: at or above the stated level, or on a flat top. A flat
 * top is a run of samples at exactly the largest value beside which, within its own length, the
 * signal falls faster than the rounding of a peak explains (a rounded parabola falls 4.5 steps).
 *
 * @param spectrum as recorded, before the dark is taken off
 */
export function saturatedSamples(
  { signal }: Spectrum,
  saturationLevel: number | null = null,
): Uint8Array {
  const flags = new Uint8Array(signal.length)
  const mark = (from: number, to: number) =>
    flags.fill(1, Math.max(0, from - SPILL), Math.min(signal.length, to + SPILL))
  const limit = saturationLevel ?? Number.POSITIVE_INFINITY
  signal.forEach((value, i) => {
    if (value >= limit) mark(i, i + 1)
  })

  const top = signal.reduce((largest, value) => Math.max(largest, value), Number.NEGATIVE_INFINITY)
  const step = leastStep(signal)
  for (let i = 0; i < signal.length; ) {
    if (signal[i] !== top) {
      i += 1
      continue
    }
    let end = i
    while (end < signal.length && signal[end] === top) end += 1
    const length = end - i
    const fall = Math.max(
      top - (signal[Math.max(0, i - length)] ?? top),
      top - (signal[Math.min(signal.length - 1, end - 1 + length)] ?? top),
    )
    if (length >= MIN_PLATEAU && fall > FALL_STEPS * step) mark(i, end)
    i = end
  }
  return flags
}

/** The least difference between neighbours that is not zero. */
function leastStep(signal: readonly number[]): number {
  let least = Number.POSITIVE_INFINITY
  for (let i = 1; i < signal.length; i++) {
    const step = Math.abs(signal[i]! - signal[i - 1]!)
    if (step > 0) least = Math.min(least, step)
  }
  return least
}
