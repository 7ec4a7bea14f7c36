/**
 * A bench is a file `tests/bench/<name>.bench.ts` that exports `bench`; `npm run bench` runs all of
 * them against the built app and prints their figures beside the targets.
 */
export type Bench = (setting: BenchSetting) => Figure[] | Promise<Figure[]>

export interface BenchSetting {
  /**
   * One round of the smallest case, part of npm test: shows that the bench still runs and that its
   * counts (nodes, listeners, records) hold. A second or two of computing, no word on speed.
   */
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
  /**
   * The value depends on the machine or on how long it runs: the short form does not fail for it.
   */
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

/** Growth of a heap from the middle third of a run to its last, beside the 5 % that count as flat. */
export function heapGrowth(name: string, samples: readonly { heapBytes: number }[]): Figure {
  const bytes = samples.map(({ heapBytes }) => heapBytes)
  // Thirds: the first warms up, single samples include work still under way.
  const third = Math.ceil(bytes.length / 3)
  const [middle, end] = [median(bytes.slice(third, 2 * third)), median(bytes.slice(-third))]
  return {
    name: `${name}: heap, middle third ${(middle / 1e6).toFixed(2)} MB, last third ${(end / 1e6).toFixed(2)} MB`,
    value: (end / middle - 1) * 100,
    unit: '% more',
    // A short run ends before the engine has settled.
    timed: true,
    target: { atMost: 5 },
  }
}
