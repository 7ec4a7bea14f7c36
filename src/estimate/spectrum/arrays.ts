/**
 * Arrays by plain loops: from(), map() and spreading go through iterators, which costs a cold start
 * on a phone a good part of the time between tap and temperature.
 */

/** Values at 0..count-1. */
export function tabulate(count: number, value: (i: number) => number): Float64Array {
  const table = new Float64Array(count)
  for (let i = 0; i < count; i++) table[i] = value(i)
  return table
}

/** As a plain array, which JSON keeps as one. */
export function plain(values: ArrayLike<number>): number[] {
  const list: number[] = new Array(values.length)
  for (let i = 0; i < values.length; i++) list[i] = values[i]!
  return list
}

/** The middle value; 0 when there is none. */
export function medianOf(values: Float64Array): number {
  return values.toSorted()[values.length >> 1] ?? 0
}
