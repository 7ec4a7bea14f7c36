import { tabulate } from './arrays.ts'

/**
 * Samples side by side that share their errors: a response, a wavelength scale and an emissivity do
 * not change within this. More samples inside buy less noise and nothing else, nm.
 */
const WIDTH_NM = 5

export interface Bins {
  /** First sample of each bin, and the number of samples at the end. */
  readonly start: Int32Array
  /** Mean wavelength of each, nm. */
  readonly nm: Float64Array
}

/** @param nm rising; gaps end a bin */
export function binsOf(nm: Float64Array): Bins {
  const start: number[] = []
  let end = Number.NEGATIVE_INFINITY
  for (let i = 0; i < nm.length; i++) {
    if (nm[i]! < end) continue
    start.push(i)
    end = nm[i]! + WIDTH_NM
  }
  start.push(nm.length)
  const starts = Int32Array.from(start)
  return { start: starts, nm: binMeans(starts, nm) }
}

/** Mean of a column over each bin. */
export function binMeans(start: Int32Array, column: ArrayLike<number>): Float64Array {
  return tabulate(start.length - 1, (b) => {
    let sum = 0
    for (let i = start[b]!; i < start[b + 1]!; i++) sum += column[i]!
    return sum / (start[b + 1]! - start[b]!)
  })
}
