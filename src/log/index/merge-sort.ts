/**
 * Sorts numbers by keys, descending, stable, in place of a comparator sort: runs that are there
 * already are merged bottom up, so a log that was written in order of time costs one pass.
 *
 * @param items indices into `keys`
 */
export function sortDescending(items: Uint32Array, keys: Float64Array): Uint32Array {
  let runs = runsOf(items, keys)
  let from = items
  let into: Uint32Array = new Uint32Array(items.length)
  while (runs.length > 2) {
    const merged = [0]
    for (let r = 0; r + 1 < runs.length; r += 2) {
      const start = runs[r]!
      const middle = runs[r + 1]!
      const end = runs[r + 2] ?? middle
      merge(from, into, start, middle, end, keys)
      merged.push(end)
    }
    runs = merged
    ;[from, into] = [into, from]
  }
  return from
}

/** Bounds of descending runs: [0, ..., length]. */
function runsOf(items: Uint32Array, keys: Float64Array): number[] {
  const bounds = [0]
  for (let i = 1; i < items.length; i++) {
    if (keys[items[i]!]! > keys[items[i - 1]!]!) bounds.push(i)
  }
  bounds.push(items.length)
  return bounds
}

function merge(
  from: Uint32Array,
  into: Uint32Array,
  start: number,
  middle: number,
  end: number,
  keys: Float64Array,
): void {
  let a = start
  let b = middle
  for (let i = start; i < end; i++) {
    const takeA = b >= end || (a < middle && keys[from[a]!]! >= keys[from[b]!]!)
    into[i] = takeA ? from[a++]! : from[b++]!
  }
}
