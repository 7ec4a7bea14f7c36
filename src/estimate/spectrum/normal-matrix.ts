import { tabulate } from './arrays.ts'

/** Sums of weighted products of every two columns. */
export function normalMatrix(
  columns: readonly Float64Array[],
  weight: Float64Array,
): Float64Array[] {
  const weighted = columns.map((column) => tabulate(weight.length, (b) => column[b]! * weight[b]!))
  const normal = columns.map(() => new Float64Array(columns.length))
  for (let i = 0; i < columns.length; i++) {
    for (let j = 0; j <= i; j++) {
      const a = weighted[i]!
      const b = columns[j]!
      let sum = 0
      for (let k = 0; k < b.length; k++) sum += a[k]! * b[k]!
      normal[i]![j] = sum
      normal[j]![i] = sum
    }
  }
  return normal
}

/** Sum of weighted products of two columns. */
export function weightedSum(weight: Float64Array, a: Float64Array, b: Float64Array): number {
  let sum = 0
  for (let i = 0; i < weight.length; i++) sum += weight[i]! * a[i]! * b[i]!
  return sum
}
