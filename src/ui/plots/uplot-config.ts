import type uPlot from 'uplot'
import { dotRadius } from './plot-svg.ts'
import type { PlotAxis, PlotData, PlotSeries, PlotView, Range } from './plot-types.ts'
import { lookOf, type PlotInk } from './series-look.ts'
import { ticksOf } from './ticks.ts'
import { isShown } from './view.ts'

type UPlot = typeof uPlot

const FONT = '13px system-ui, sans-serif'
const TICK_ROOM = { x: 58, y: 40 } as const
const SHADE_HEX = '38'

/** Lines as one table over all their wavelengths; points are drawn apart, where x may repeat. */
export function plotTable(UPlotClass: UPlot, data: PlotData): uPlot.AlignedData {
  const tables = lines(data).map((series): uPlot.AlignedData => {
    const order = ascending(series.x)
    const x = order.map((i) => series.x[i]!)
    for (let i = 1; i < x.length; i++) {
      if (x[i]! <= x[i - 1]!) x[i] = x[i - 1]! + 1e-12 * (Math.abs(x[i - 1]!) || 1)
    }
    const pick = (values: readonly (number | null)[]) =>
      order.map((i) => (isShown(data.y, values[i] ?? null) ? values[i]! : null))
    const { band } = series
    return band ? [x, pick(series.y), pick(band.low), pick(band.high)] : [x, pick(series.y)]
  })
  return tables.length === 0 ? [[]] : UPlotClass.join(tables)
}

const lines = (data: PlotData) => data.series.filter((series) => series.kind === 'line')

function ascending(x: readonly number[]): number[] {
  return x.map((_, i) => i).sort((a, b) => x[a]! - x[b]!)
}

/** Options for one plot; the view is asked for at every drawing. */
export function plotOptions(
  data: PlotData,
  ink: PlotInk,
  size: { readonly width: number; readonly height: number },
  view: () => PlotView,
  onCursor: (x: number | null) => void,
): uPlot.Options {
  const series: uPlot.Series[] = [{}]
  const bands: uPlot.Band[] = []
  data.series.forEach((one, place) => {
    if (one.kind !== 'line') return
    const { colour, dash } = lookOf(one, place, ink)
    const points = { show: false }
    series.push({ stroke: colour, width: 1.75, dash: [...dash], points })
    if (!one.band) return
    const edge = { stroke: 'transparent', width: 0, points }
    series.push(edge, edge)
    const high = series.length - 1
    bands.push({ series: [high, high - 1], fill: `${colour}${SHADE_HEX}` })
  })
  return {
    ...size,
    series,
    bands,
    scales: { x: scale(data.x, () => view().x), y: scale(data.y, () => view().y) },
    axes: [axis(data.x, 'x', ink), axis(data.y, 'y', ink)],
    legend: { show: false },
    cursor: { drag: { x: false, y: false }, points: { show: false }, y: false },
    padding: [10, 20, 0, 0],
    hooks: {
      drawAxes: [(plot) => shadeSpans(plot, data, ink)],
      draw: [(plot) => drawPoints(plot, data, ink)],
      setCursor: [
        (plot) => {
          const { left } = plot.cursor
          onCursor(left === undefined || left < 0 ? null : plot.posToVal(left, 'x'))
        },
      ],
    },
  }
}

function scale(axis: PlotAxis, range: () => Range): uPlot.Scale {
  return {
    time: false,
    auto: false,
    distr: axis.scale === 'log' ? 3 : 1,
    range: () => [...range()],
  }
}

function axis(of: PlotAxis, key: 'x' | 'y', ink: PlotInk): uPlot.Axis {
  const ticks = (plot: uPlot, min: number, max: number) => {
    const { width, height } = plot.bbox
    const pixels = (key === 'x' ? width : height) / devicePixelRatio
    return ticksOf(of, [min, max], Math.max(160, pixels) / TICK_ROOM[key])
  }
  return {
    scale: key,
    stroke: ink.text,
    font: FONT,
    label: of.label,
    labelFont: FONT,
    labelSize: 22,
    size: key === 'x' ? 30 : (_, values) => 16 + 7.5 * Math.max(2, ...(values ?? []).map(length)),
    grid: { stroke: ink.grid, width: 1 },
    ticks: { stroke: ink.grid, width: 1, size: 5 },
    splits: (plot, _, min, max) => ticks(plot, min, max).map(({ value }) => value),
    values: (plot) => {
      const { min = 0, max = 1 } = plot.scales[key] ?? {}
      return ticks(plot, min, max).map(({ text }) => text)
    },
    filter: (_, splits) => splits,
  }
}

const length = (text: string | null) => text?.length ?? 0

const SMALL_FONT = 12

function shadeSpans(plot: uPlot, { spans = [] }: PlotData, ink: PlotInk): void {
  const { ctx, bbox } = plot
  const px = devicePixelRatio
  const end = bbox.left + bbox.width
  ctx.save()
  ctx.font = `${SMALL_FONT * px}px system-ui, sans-serif`
  ctx.textAlign = 'left'
  ctx.textBaseline = 'top'
  /** Where names reach to on each of two lines, so that none lies over another. */
  const taken = [0, 0]
  for (const { from, to, kind, label } of [...spans].sort((a, b) => a.from - b.from)) {
    const left = Math.max(bbox.left, plot.valToPos(from, 'x', true))
    const right = Math.min(end, plot.valToPos(to, 'x', true))
    const seen = kind === 'mark' ? right >= bbox.left && left <= end : right > left
    if (!seen) continue
    const colour = kind === 'trouble' ? ink.colours.warn : ink.colours.soft
    ctx.fillStyle = kind === 'mark' ? colour : `${colour}30`
    const width = kind === 'mark' ? 1.5 * px : right - left
    ctx.fillRect(left, bbox.top, width, bbox.height)
    if (kind === undefined) continue
    const [at, long] = [left + 5 * px, ctx.measureText(label).width]
    const line = taken.findIndex((until) => until <= at)
    if (line < 0 || at + long > end) continue
    taken[line] = at + long + 8 * px
    ctx.fillStyle = kind === 'mark' ? ink.text : colour
    ctx.fillText(label, at, bbox.top + (3 + line * (SMALL_FONT + 3)) * px)
  }
  ctx.restore()
}

function drawPoints(plot: uPlot, data: PlotData, ink: PlotInk): void {
  const { ctx, bbox } = plot
  ctx.save()
  ctx.beginPath()
  ctx.rect(bbox.left, bbox.top, bbox.width, bbox.height)
  ctx.clip()
  data.series.forEach((series, place) => {
    if (series.kind === 'points') dots(plot, data, series, lookOf(series, place, ink).colour)
  })
  ctx.restore()
}

function dots(plot: uPlot, data: PlotData, series: PlotSeries, colour: string): void {
  const { ctx } = plot
  const radius = dotRadius(series) * devicePixelRatio
  const y = (value: number) => plot.valToPos(value, 'y', true)
  ctx.fillStyle = colour
  ctx.strokeStyle = colour
  ctx.lineWidth = 1.5 * devicePixelRatio
  // The line drawn before may have left its dashes.
  ctx.setLineDash([])
  const { band } = series
  ctx.beginPath()
  if (band) {
    series.x.forEach((at, i) => {
      const [low, high] = [band.low[i] ?? null, band.high[i] ?? null]
      if (!isShown(data.y, low) || !isShown(data.y, high)) return
      const left = plot.valToPos(at, 'x', true)
      ctx.moveTo(left, y(low))
      ctx.lineTo(left, y(high))
    })
    ctx.stroke()
  }
  ctx.beginPath()
  series.x.forEach((at, i) => {
    const value = series.y[i] ?? null
    if (!isShown(data.x, at) || !isShown(data.y, value)) return
    const left = plot.valToPos(at, 'x', true)
    ctx.moveTo(left + radius, y(value))
    ctx.arc(left, y(value), radius, 0, 2 * Math.PI)
  })
  ctx.fill()
}
