import type { Row } from './rows.ts'

/** A stretch without samples, nm. */
export interface Gap {
  readonly fromNm: number
  readonly toNm: number
}

export interface TidyColumn {
  readonly wavelengthNm: number[]
  readonly signal: number[]
  /** Samples that repeated a wavelength and went into a mean. */
  readonly repeated: number
  readonly gaps: readonly Gap[]
}

/** A step this many times the usual one is called a gap. */
const GAP_STEPS = 5

export type Direction = 'ascending' | 'descending' | 'unsorted'

/** The order of the rows by wavelength; repeated wavelengths do not count against it. */
export function directionOf(rows: readonly Row[]): Direction {
  let up = false
  let down = false
  for (let i = 1; i < rows.length; i++) {
    const step = rows[i]!.numbers[0]! - rows[i - 1]!.numbers[0]!
    if (step > 0) up = true
    if (step < 0) down = true
  }
  return up && down ? 'unsorted' : down ? 'descending' : 'ascending'
}

/**
 * One column of a block as a spectrum: ascending, each wavelength once (the mean where the text
 * repeats it), empty cells left out.
 */
export function tidyColumn(
  rows: readonly Row[],
  column: number,
  toNm: (axis: number) => number,
): TidyColumn {
  const samples: [number, number][] = []
  for (const { numbers } of rows) {
    const signal = numbers[column]!
    // Rounded so that 0.5461 um gives 546.1 nm and not 546.0999999999999.
    if (!Number.isNaN(signal)) samples.push([roundNm(toNm(numbers[0]!)), signal])
  }
  if (samples.some((sample, i) => i > 0 && sample[0] < samples[i - 1]![0])) {
    samples.sort((a, b) => a[0] - b[0])
  }
  const wavelengthNm: number[] = []
  const signal: number[] = []
  let repeated = 0
  for (let i = 0; i < samples.length; ) {
    const at = samples[i]![0]
    let sum = 0
    let count = 0
    for (; i < samples.length && samples[i]![0] === at; i++) {
      // A running mean cannot overflow as a sum can.
      count += 1
      sum += (samples[i]![1] - sum) / count
    }
    repeated += count - 1
    wavelengthNm.push(at)
    signal.push(sum)
  }
  return { wavelengthNm, signal, repeated, gaps: gapsOf(wavelengthNm) }
}

function roundNm(wavelengthNm: number): number {
  return Math.round(wavelengthNm * 1e6) / 1e6
}

function gapsOf(wavelengthNm: readonly number[]): Gap[] {
  const steps = Float64Array.from(wavelengthNm, (at, i) => at - (wavelengthNm[i - 1] ?? at))
  const usual = steps.toSorted()[steps.length >> 1] ?? 0
  const gaps: Gap[] = []
  steps.forEach((step, i) => {
    if (step > GAP_STEPS * usual)
      gaps.push({ fromNm: wavelengthNm[i - 1]!, toNm: wavelengthNm[i]! })
  })
  return gaps
}
