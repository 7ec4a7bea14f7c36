import { medianOf, tabulate } from './arrays.ts'
import type { FitPoints } from './fit-points.ts'
import type { PlanckFit } from './planck-fit.ts'
import type { WavelengthRange } from './types.ts'

/** Residuals of this many robust standard deviations above their neighbours' are lines. */
const LINE_HEIGHT = 6
/** Wider features are no lines: they belong to the shape, and widen the interval. */
const MAX_LINE_WIDTH_NM = 10
/** Samples beside a line that go with it. */
const LINE_MARGIN = 3
/** Blocks whose medians are the local level of the residuals: at least this long. */
const LEVEL_SAMPLES = 31
const LEVEL_NM = 30
const NORMAL_MEDIAN = 0.6744897501960817
/** Blocks in which broad residuals are summed. */
const BLOCKS = 24
const MIN_BLOCK = 4

/**
 * Residuals over the standard deviation of noise, with the weight of smoothed response errors in it:
 * broad departures show, single samples look quieter than 1.
 */
export function spectralResiduals(points: FitPoints, fit: PlanckFit): Float64Array {
  return tabulate(
    points.signal.length,
    (i) => (points.signal[i]! - fit.glow[i]! - fit.pedestal) / Math.sqrt(fit.noise[i]!),
  )
}

/**
 * Marks narrow features that no glow has: emission lines of flames and room lamps, dead pixels.
 *
 * @param residuals see {@link spectralResiduals}
 * @returns one byte a point, 1 for samples of lines
 */
export function findLines(nm: Float64Array, residuals: Float64Array): Uint8Array {
  const count = residuals.length
  const level = localLevel(nm, residuals)
  const excess = residuals.map((value, i) => Math.abs(value - level[i]!))
  // Where the noise is understated, lines are judged by the spread that is there.
  const limit = LINE_HEIGHT * Math.max(1, medianOf(excess) / NORMAL_MEDIAN)
  const marks = new Uint8Array(count)
  for (let i = 0; i < count; ) {
    if (excess[i]! <= limit) {
      i += 1
      continue
    }
    let end = i
    while (end < count && excess[end]! > limit) end += 1
    // At an end a line cannot be told from a shape that runs away.
    if (i > 0 && end < count && nm[end - 1]! - nm[i]! <= MAX_LINE_WIDTH_NM) {
      marks.fill(1, Math.max(0, i - LINE_MARGIN), Math.min(count, end + LINE_MARGIN))
    }
    i = end
  }
  return marks
}

/** Medians of blocks, joined by straight lines and carried on at the ends: broad features. */
function localLevel(nm: Float64Array, residuals: Float64Array): Float64Array {
  const count = nm.length
  const step = (nm[count - 1]! - nm[0]!) / Math.max(1, count - 1)
  const length = Math.max(LEVEL_SAMPLES, Math.ceil(LEVEL_NM / step))
  const blocks = Math.max(1, Math.floor(count / length))
  const levels = Float64Array.from({ length: blocks }, (_, block) =>
    medianOf(residuals.slice((block * count) / blocks, ((block + 1) * count) / blocks)),
  )
  if (blocks === 1) return residuals.map(() => levels[0]!)
  return residuals.map((_, i) => {
    const at = ((i + 0.5) * blocks) / count - 0.5
    const low = Math.min(blocks - 2, Math.max(0, Math.floor(at)))
    return levels[low]! + (at - low) * (levels[low + 1]! - levels[low]!)
  })
}

/** The marked stretches as wavelengths. */
export function markedStretches(nm: Float64Array, marks: Uint8Array): WavelengthRange[] {
  const stretches: { fromNm: number; toNm: number }[] = []
  marks.forEach((mark, i) => {
    if (mark !== 1) return
    const open = stretches[stretches.length - 1]
    if (open && marks[i - 1] === 1) open.toNm = nm[i]!
    else stretches.push({ fromNm: nm[i]!, toNm: nm[i]! })
  })
  return stretches
}

/**
 * How much broader residuals vary than noise and the systematic causes in the budget explain: the
 * mean square of sums over blocks of neighbours, over its expectation.
 *
 * @param parameters fitted parameters that data alone determine
 * @returns variance factor, 1 where chance can explain what is seen (about 1 in 200)
 */
export function misfitFactor(points: FitPoints, fit: PlanckFit, parameters = 3): number {
  const residuals = spectralResiduals(points, fit)
  const count = residuals.length
  const blocks = Math.min(BLOCKS, Math.floor(count / MIN_BLOCK))
  if (blocks <= parameters + 2) return 1
  let seen = 0
  let expected = 0
  for (let block = 0; block < blocks; block++) {
    const from = Math.floor((block * count) / blocks)
    const to = Math.floor(((block + 1) * count) / blocks)
    let sum = 0
    let stray = 0
    let bend = 0
    for (let i = from; i < to; i++) {
      const share = fit.glow[i]! / Math.sqrt(fit.noise[i]!)
      sum += residuals[i]!
      stray += points.lampStray[i]! * share
      bend += points.bend[i]! * share
    }
    seen += sum ** 2 / (to - from)
    expected += 1 + (stray ** 2 + bend ** 2) / (to - from)
  }
  const factor = seen / (expected * (1 - parameters / blocks))
  // Spread of a mean of squares: sqrt(2 / number); 2.6 standard deviations.
  return factor > 1 + 2.6 * Math.sqrt(2 / (blocks - parameters)) ? factor : 1
}
