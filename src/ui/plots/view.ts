import type { PlotAxis, PlotData, PlotView, Range } from './plot-types.ts'

/** Room beside the data, as a share of their extent. */
const MARGIN = 0.04
/** Narrowest view, as a share of the whole. */
const CLOSEST = 1e-3

/** Values to the scale in which an axis is even, and back. */
export function toScale(axis: PlotAxis, value: number): number {
  return axis.scale === 'log' ? Math.log10(value) : value
}

export function fromScale(axis: PlotAxis, at: number): number {
  return axis.scale === 'log' ? 10 ** at : at
}

/** Is a value one that the axis can show? */
export function isShown(axis: PlotAxis, value: number | null): value is number {
  return value !== null && Number.isFinite(value) && (axis.scale !== 'log' || value > 0)
}

/** The view in which everything is in sight, or the one that the axes ask for. */
export function wholePlot(data: PlotData): PlotView {
  const x =
    data.x.range ??
    extent(
      data.x,
      data.series.map((series) => series.x),
    )
  const inSight = (value: number | undefined) =>
    value !== undefined && value >= x[0] && value <= x[1]
  const heights = data.series.flatMap((series) => {
    const pick = (values: readonly (number | null)[]) =>
      values.filter((value, i) => value !== null && inSight(series.x[i]))
    const bars = series.band ? [series.band.low, series.band.high] : []
    return [series.y, ...bars].map(pick)
  })
  return { x, y: data.y.range ?? withMargin(data.y, extent(data.y, heights)) }
}

function extent(axis: PlotAxis, lists: readonly (readonly (number | null)[])[]): Range {
  let min = Number.POSITIVE_INFINITY
  let max = Number.NEGATIVE_INFINITY
  for (const list of lists) {
    for (const value of list) {
      if (!isShown(axis, value)) continue
      min = Math.min(min, value)
      max = Math.max(max, value)
    }
  }
  if (min < max) return [min, max]
  const only = min === max ? min : 1
  if (axis.scale === 'log') return [only / 2, only * 2]
  const half = Math.abs(only) / 2 || 1
  return [only - half, only + half]
}

function withMargin(axis: PlotAxis, [min, max]: Range): Range {
  const [a, b] = [toScale(axis, min), toScale(axis, max)]
  const room = MARGIN * (b - a)
  return [fromScale(axis, a - room), fromScale(axis, b + room)]
}

/**
 * One axis drawn nearer about a place that stays where it is, and never past the whole.
 *
 * @param share where the place lies in the range, 0..1
 * @param factor above 1 nearer
 */
export function zoomed(
  axis: PlotAxis,
  range: Range,
  whole: Range,
  share: number,
  factor: number,
): Range {
  const [a, b] = [toScale(axis, range[0]), toScale(axis, range[1])]
  const full = toScale(axis, whole[1]) - toScale(axis, whole[0])
  const width = Math.min(full, Math.max(CLOSEST * full, (b - a) / factor))
  const centre = a + share * (b - a)
  return within(axis, centre - share * width, width, whole)
}

/** One axis moved by a share of its range, and never past the whole. */
export function movedPlot(axis: PlotAxis, range: Range, whole: Range, share: number): Range {
  const [a, b] = [toScale(axis, range[0]), toScale(axis, range[1])]
  return within(axis, a + share * (b - a), b - a, whole)
}

function within(axis: PlotAxis, from: number, width: number, whole: Range): Range {
  const [least, most] = [toScale(axis, whole[0]), toScale(axis, whole[1])]
  // The whole exactly, not but for rounding: a view that is whole must be known as such.
  if (width >= (most - least) * (1 - 1e-9)) return whole
  const start = Math.min(Math.max(from, least), most - width)
  return [fromScale(axis, start), fromScale(axis, start + width)]
}

export function isWhole(view: PlotView, whole: PlotView): boolean {
  return view.x === whole.x && view.y === whole.y
}
