import type { HeatCells } from './heat-cells.ts'

/** Smoothed cells with the uncertainty that noise leaves in each. */
export interface SmoothCells {
  /** ln(G/R); NaN where not read. */
  readonly lnRatio: Float32Array
  /** Standard uncertainty by noise. */
  readonly lnNoise: Float32Array
}

/** Radii of the growing neighbourhoods, cells. */
const RADII = [1, 1.5, 2.2, 3.2, 4.6, 6.6]
/**
 * Cells that differ by more than this many variances of the estimate so far lie across an edge: twice
 * the penalty at which noise alone hardly keeps cells apart in two dimensions.
 */
const ALIKE = 22
/**
 * Variance of such a mean over what its weights say of independent noise: they prefer what lies alike.
 * Measured on even and on sloping noise of 0.02 to 0.1: 1.18 to 1.40 times the standard deviation.
 */
const PREFERENCE = 1.24 ** 2
/** Noise of less than this in ln(G/R), 1 K at 1173 K, asks for no more smoothing. */
const ENOUGH = 0.003

/**
 * Smooths only as far as the noise asks, and not over edges: around each cell the neighbourhood grows,
 * and those of its cells count whose value so far lies within what noise explains (adaptive weights:
 * Polzehl & Spokoiny, Probab. Theory Relat. Fields 135 (2006) 335).
 */
export function smoothCells(
  cells: Pick<HeatCells, 'columns' | 'rows' | 'lnRatio' | 'lnNoise' | 'noiseReach' | 'noiseGrowth'>,
): SmoothCells {
  const { columns, rows, lnRatio, lnNoise, noiseReach, noiseGrowth } = cells
  let value = lnRatio
  let variance = lnNoise.map((noise) => noise * noise)
  const own = variance
  let stated = variance
  const common = noiseReach ** 2
  /** What correlated noise adds to the variance of a mean of so many cells; close ones are most alike. */
  const growth = (count: number) =>
    common <= 1 ? 1 : 1 + (noiseGrowth - 1) * Math.min(1, (4 * (count - 1)) / (common - 1))
  const enough = ENOUGH ** 2
  for (const radius of RADII) {
    const next = value.slice()
    const nextVariance = variance.slice()
    const nextStated = stated.slice()
    let open = false
    const { dx, dy, kernel } = neighbourhood(radius)
    for (let at = 0; at < value.length; at++) {
      const centre = value[at]!
      const spread = variance[at]!
      if (Number.isNaN(centre) || !(spread > enough)) continue
      open = true
      const x = at % columns
      const y = (at - x) / columns
      const limit = 1 / (ALIKE * spread)
      let [sum, weights, squares, noise] = [0, 0, 0, 0]
      for (let k = 0; k < kernel.length; k++) {
        const u = x + dx[k]!
        const v = y + dy[k]!
        if (u < 0 || v < 0 || u >= columns || v >= rows) continue
        const other = v * columns + u
        const apart = (value[other]! - centre) ** 2 * limit
        if (!(apart < 1)) continue
        const weight = (kernel[k]! * (1 - apart)) / own[other]!
        sum += weight * lnRatio[other]!
        weights += weight
        squares += weight * weight
        noise += weight * weight * own[other]!
      }
      next[at] = sum / weights
      const independent = noise / weights ** 2
      const grown = growth(weights ** 2 / squares)
      nextVariance[at] = independent * grown
      nextStated[at] = independent * (grown + PREFERENCE - 1)
    }
    value = next
    variance = nextVariance
    stated = nextStated
    if (!open) break
  }
  return { lnRatio: value, lnNoise: stated.map(Math.sqrt) }
}

function neighbourhood(radius: number) {
  const reach = Math.floor(radius)
  const [dx, dy, kernel]: [number[], number[], number[]] = [[], [], []]
  for (let v = -reach; v <= reach; v++)
    for (let u = -reach; u <= reach; u++) {
      const far = (u * u + v * v) / (radius + 0.5) ** 2
      if (far >= 1) continue
      dx.push(u)
      dy.push(v)
      kernel.push(1 - far)
    }
  return { dx, dy, kernel }
}
