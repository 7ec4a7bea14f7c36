export interface CellNoise {
  /** Standard uncertainty of each cell's ln(G/R) by noise; NaN where it was not read. */
  readonly lnNoise: Float32Array
  /** Cells across which noise is one. */
  readonly reach: number
  /** Variance of a mean over `reach` by `reach` cells over what independent cells would have. */
  readonly growth: number
}

/** JPEG with halved colour codes 16 x 16 pixels together; filters reach over fewer (see patch). */
const COMMON_PIXELS = 16
/** Levels at which the noise is measured apart. */
const BINS = 6
const LEAST_DIFFERENCES = 30
/** Variance of a - 2 b + c of independent values. */
const SECOND = 6
/** Of an 8-bit code that noise has smeared; without this a flat picture would claim no error at all. */
const LEAST_NOISE = 0.0005

/**
 * The noise of cells, from second differences of cells so far apart that their noise is independent: an
 * even slope of the glow drops out, spots and edges are few and the largest differences do not count. It is
 * taken as a function of the level, because dark cells are noisier.
 */
export function cellNoise(
  lnRatio: Float32Array,
  lnRed: Float32Array,
  columns: number,
  rows: number,
  sidePixels: number,
): CellNoise {
  const reach = Math.max(1, Math.round(COMMON_PIXELS / sidePixels))
  let lag = reach
  let single = secondDifferences(lnRatio, columns, rows, lag)
  while (single.value.length < LEAST_DIFFERENCES && lag > 1) {
    lag = Math.max(1, lag >> 1)
    single = secondDifferences(lnRatio, columns, rows, lag)
  }
  const byLevel = levels(single, lnRed)
  const lnNoise = new Float32Array(lnRatio.length).fill(Number.NaN)
  for (let at = 0; at < lnRatio.length; at++)
    if (Number.isFinite(lnRatio[at]!)) lnNoise[at] = Math.max(byLevel(lnRed[at]!), LEAST_NOISE)
  return { lnNoise, reach, growth: growthOf(lnRatio, columns, rows, reach, single.value) }
}

interface Differences {
  /** a - 2 b + c. */
  readonly value: readonly number[]
  /** The middle cell. */
  readonly at: readonly number[]
}

function secondDifferences(
  values: Float32Array,
  columns: number,
  rows: number,
  lag: number,
): Differences {
  const value: number[] = []
  const at: number[] = []
  for (let y = 0; y < rows; y++) {
    for (let x = 0; x < columns; x++) {
      const middle = y * columns + x
      const twice = 2 * values[middle]!
      if (Number.isNaN(twice)) continue
      const add = (other: number, before: number) => {
        const difference = values[other]! + values[before]! - twice
        if (Number.isNaN(difference)) return
        value.push(difference)
        at.push(middle)
      }
      if (x >= lag && x + lag < columns) add(middle + lag, middle - lag)
      if (y >= lag && y + lag < rows) add(middle + lag * columns, middle - lag * columns)
    }
  }
  return { value, at }
}

/** Spots and edges of the glow fill few cells: so many of the largest differences are left out. */
const LEFT_OUT = 0.04
/** Variance of a normal without its outer 4 %: 1 - 2 z density(z) / 0.96 at z = 2.054. */
const KEPT_VARIANCE = 0.7928

/**
 * Not a median: JPEG leaves most blocks without any noise and gathers it in a few.
 */
function sdOf(differences: readonly number[]): number {
  const squares = Float64Array.from(differences, (d) => d * d).sort()
  const kept = Math.max(1, Math.floor((1 - LEFT_OUT) * squares.length))
  let sum = 0
  for (let i = 0; i < kept; i++) sum += squares[i]!
  return Math.sqrt(sum / kept / KEPT_VARIANCE / SECOND)
}

/** Noise over ln R, straight between bins of equal numbers of cells. */
function levels({ value, at }: Differences, lnRed: Float32Array): (level: number) => number {
  if (value.length === 0) return () => Number.POSITIVE_INFINITY
  const order = value.map((_, i) => i).sort((a, b) => lnRed[at[a]!]! - lnRed[at[b]!]!)
  const bins = Math.max(1, Math.min(BINS, Math.floor(order.length / LEAST_DIFFERENCES)))
  const points = Array.from({ length: bins }, (_, bin) => {
    const part = order.slice(
      Math.floor((bin * order.length) / bins),
      Math.floor(((bin + 1) * order.length) / bins),
    )
    const level = part.reduce((sum, i) => sum + lnRed[at[i]!]!, 0) / part.length
    return { level, noise: sdOf(part.map((i) => value[i]!)) }
  })
  return (level) => {
    const above = points.findIndex((point) => point.level >= level)
    if (above < 0) return points.at(-1)!.noise
    if (above === 0) return points[0]!.noise
    const [a, b] = [points[above - 1]!, points[above]!]
    return a.noise + ((level - a.level) / (b.level - a.level)) * (b.noise - a.noise)
  }
}

/** Where the glow is too small to see it: share of the cells in reach that err as one, as in JPEG. */
const USUAL_SHARE = 0.4
const LEAST_GROUPS = 12
/** Standard uncertainties within which it may be none: else chance alone would add to noise that is not common. */
const BY_CHANCE = 2

/** How much less than independent cells the means of whole groups scatter away. */
function growthOf(
  values: Float32Array,
  columns: number,
  rows: number,
  reach: number,
  single: readonly number[],
): number {
  if (reach === 1) return 1
  const across = Math.floor(columns / reach)
  const down = Math.floor(rows / reach)
  const means = new Float32Array(across * down).fill(Number.NaN)
  for (let v = 0; v < down; v++) {
    for (let u = 0; u < across; u++) {
      let sum = 0
      for (let dy = 0; dy < reach; dy++)
        for (let dx = 0; dx < reach; dx++)
          sum += values[(v * reach + dy) * columns + u * reach + dx]!
      means[v * across + u] = sum / reach ** 2
    }
  }
  const grouped = secondDifferences(means, across, down, 1).value
  const most = reach ** 2
  if (grouped.length < LEAST_GROUPS) return Math.max(1, USUAL_SHARE * most)
  const growth = (most * sdOf(grouped) ** 2) / Math.max(sdOf(single), 1e-9) ** 2
  const chance = BY_CHANCE * Math.sqrt(2 / grouped.length)
  return growth < 1 + chance ? 1 : Math.min(growth, most)
}
