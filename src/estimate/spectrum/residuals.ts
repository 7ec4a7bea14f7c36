import { medianOf, tabulate } from './arrays.ts'
import type { FitPoints } from './fit-points.ts'
import type { PlanckFit } from './planck-fit.ts'
import type { WavelengthRange } from './types.ts'

/** Residuals of this many robust standard deviations above their neighbours' are lines. */
const LINE_HEIGHT = 6
/** Wider features are no lines: they belong to the shape. */
const MAX_LINE_WIDTH_NM = 10
/** Samples beside a line that go with it. */
const LINE_MARGIN = 3
/** Blocks whose medians are the local level of the residuals: at least this long. */
const LEVEL_SAMPLES = 31
const LEVEL_NM = 30
const NORMAL_MEDIAN = 0.6744897501960817

/**
 * What the fit leaves over, over the standard deviation of noise, with the weight of smoothed response
 * errors in it: single samples look quieter than 1.
 *
 * @param fine a relative departure that is no line yet, standard deviation
 */
export function spectralResiduals(points: FitPoints, fit: PlanckFit, fine = 0): Float64Array {
  return tabulate(
    points.signal.length,
    (i) =>
      (points.signal[i]! - fit.glow[i]! - fit.zero[i]!) /
      Math.sqrt(fit.noise[i]! + (fine * fit.glow[i]!) ** 2),
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
