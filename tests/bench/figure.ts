/**
 * A bench is a file `tests/bench/<name>.bench.ts` that exports `bench`; `npm run bench` runs all of
 * them against the built app and prints their figures beside the targets.
 */
export type Bench = (setting: BenchSetting) => Figure[] | Promise<Figure[]>

export interface BenchSetting {
  /** Only show that it still works, within a few seconds: part of npm test. */
  short: boolean
  /** Address of the built app, served for the bench. */
  url: string
}

export interface Figure {
  name: string
  value: number
  unit: string
  /** Without a target the number is told, and that is all. */
  target?: { atMost: number } | { atLeast: number }
  /** The value hangs on the speed of the machine: the short form does not fail for it. */
  timed?: boolean
}

/** Whether the figure is where it should be; true without a target. */
export function isReached({ value, target }: Figure): boolean {
  if (target === undefined) return true
  return 'atMost' in target ? value <= target.atMost : value >= target.atLeast
}

/** The middle value; of an even number the lower of the two in the middle. */
export function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b)
  const middle = sorted[Math.floor((sorted.length - 1) / 2)]
  if (middle === undefined) throw new RangeError('No value to take the median of.')
  return middle
}
