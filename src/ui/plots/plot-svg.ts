import type { PlotAxis, PlotData, PlotSeries, PlotView, Range } from './plot-types.ts'
import { lookOf, PAPER, type SeriesLook } from './series-look.ts'
import { ticksOf } from './ticks.ts'
import { isShown, toScale } from './view.ts'

export const SVG_SIZE = { width: 900, height: 560 } as const
const BOX = { left: 90, top: 54, right: 24, bottom: 60 } as const
const LEGEND_LINE = 20
const TICK_ROOM = { x: 90, y: 55 } as const
const SHADE = 0.18

const escaped = (text: string) =>
  text.replace(
    /[&<>"]/g,
    (c) => ({ '&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&quot;' })[c] ?? c,
  )

const label = (x: number, y: number, text: string, more = '') =>
  `<text x="${x.toFixed(1)}" y="${y.toFixed(1)}"${more === '' ? '' : ` ${more}`}>${escaped(text)}</text>`

/**
 * A plot as a picture of its own, dark on white, from the same data as the one on screen.
 *
 * @param note a line below: date, instrument, what the figure rests on
 */
export function plotSvg(data: PlotData, view: PlotView, note = ''): string {
  const legend = data.series.length * LEGEND_LINE
  const height = SVG_SIZE.height + legend
  const right = SVG_SIZE.width - BOX.right
  const bottom = SVG_SIZE.height - BOX.bottom
  const place = (axis: PlotAxis, range: Range, from: number, to: number) => {
    const [a, b] = [toScale(axis, range[0]), toScale(axis, range[1])]
    return (value: number) => from + ((toScale(axis, value) - a) / (b - a)) * (to - from)
  }
  const x = place(data.x, view.x, BOX.left, right)
  const y = place(data.y, view.y, bottom, BOX.top)
  const grid: string[] = []
  const names: string[] = []
  for (const tick of ticksOf(data.x, view.x, (right - BOX.left) / TICK_ROOM.x)) {
    grid.push(`M${x(tick.value).toFixed(1)} ${BOX.top}V${bottom}`)
    names.push(label(x(tick.value), bottom + 20, tick.text, 'text-anchor="middle"'))
  }
  for (const tick of ticksOf(data.y, view.y, (bottom - BOX.top) / TICK_ROOM.y)) {
    grid.push(`M${BOX.left} ${y(tick.value).toFixed(1)}H${right}`)
    names.push(label(BOX.left - 8, y(tick.value) + 5, tick.text, 'text-anchor="end"'))
  }
  const middle = (BOX.top + bottom) / 2
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${SVG_SIZE.width} ${height}" width="${SVG_SIZE.width}" height="${height}" font-family="sans-serif" font-size="14" fill="${PAPER.text}">`,
    `<rect width="100%" height="100%" fill="${PAPER.ground}"/>`,
    label(BOX.left, 32, data.title, 'font-size="18" font-weight="bold"'),
    `<clipPath id="plot"><path d="M${BOX.left} ${BOX.top}H${right}V${bottom}H${BOX.left}Z"/></clipPath>`,
    `<path d="${grid.join('')}" stroke="${PAPER.grid}" fill="none"/>`,
    '<g clip-path="url(#plot)">',
    ...(data.spans ?? []).map(({ from, to, kind, label: name }) => {
      const left = x(Math.max(from, view.x[0]))
      const width = kind === 'mark' ? 1.5 : x(Math.min(to, view.x[1])) - left
      if (!(width > 0)) return ''
      return `<rect x="${left.toFixed(1)}" y="${BOX.top}" width="${width.toFixed(1)}" height="${bottom - BOX.top}" fill="${PAPER.colours.soft}" fill-opacity="0.12"/>${label(left + 4, BOX.top + 16, name, `font-size="12" fill="${PAPER.colours.soft}"`)}`
    }),
    ...data.series.map((series, i) => drawn(data, series, lookOf(series, i, PAPER), x, y)),
    '</g>',
    `<path d="M${BOX.left} ${BOX.top}V${bottom}H${right}" stroke="${PAPER.text}" fill="none"/>`,
    ...names,
    label(right, bottom + 44, data.x.label, 'text-anchor="end"'),
    label(22, middle, data.y.label, `text-anchor="middle" transform="rotate(-90 22 ${middle})"`),
    ...data.series.map((series, i) => {
      const at = SVG_SIZE.height + i * LEGEND_LINE
      return (
        sample(series, lookOf(series, i, PAPER), at) + label(BOX.left + 36, at + 5, series.label)
      )
    }),
    note === '' ? '' : label(right, 32, note, 'text-anchor="end" font-size="12"'),
    '</svg>',
  ]
    .filter((part) => part !== '')
    .join('\n')
}

type Place = (value: number) => number

function drawn(data: PlotData, series: PlotSeries, look: SeriesLook, x: Place, y: Place): string {
  const { band } = series
  const seen = series.x.map((at, i) => isShown(data.x, at) && isShown(data.y, series.y[i] ?? null))
  const point = (i: number, value: number) => `${x(series.x[i]!).toFixed(1)} ${y(value).toFixed(1)}`
  const has = (value: number | undefined) => isShown(data.y, value ?? null)
  if (series.kind === 'points') {
    const bars = series.x.map((_, i) =>
      seen[i] && has(band?.low[i]) && has(band?.high[i])
        ? `M${point(i, band!.low[i]!)}L${point(i, band!.high[i]!)}`
        : '',
    )
    const dots = series.x.map((at, i) =>
      seen[i]
        ? `<circle cx="${x(at).toFixed(1)}" cy="${y(series.y[i]!).toFixed(1)}" r="${dotRadius(series)}"/>`
        : '',
    )
    return `<path d="${bars.join('')}" stroke="${look.colour}"/><g fill="${look.colour}">${dots.join('')}</g>`
  }
  let path = ''
  series.x.forEach((_, i) => {
    if (seen[i]) path += `${seen[i - 1] ? 'L' : 'M'}${point(i, series.y[i]!)}`
  })
  const line = `<path d="${path}" fill="none" stroke="${look.colour}" stroke-width="1.6" stroke-linejoin="round"${look.dash.length > 0 ? ` stroke-dasharray="${look.dash.join(' ')}"` : ''}/>`
  if (!band) return line
  const runs: number[][] = []
  series.x.forEach((_, i) => {
    if (!has(band.low[i]) || !has(band.high[i])) return
    // A gap parts the band as it parts the line.
    if (runs.at(-1)?.at(-1) === i - 1) runs.at(-1)!.push(i)
    else runs.push([i])
  })
  const area = runs
    .map((run) => {
      const there = run.map((i) => point(i, band.high[i]!))
      const back = run.map((i) => point(i, band.low[i]!)).reverse()
      return `M${[...there, ...back].join('L')}Z`
    })
    .join('')
  return `<path d="${area}" fill="${look.colour}" fill-opacity="${SHADE}"/>${line}`
}

/** Many points are drawn small, few large. */
export function dotRadius(series: PlotSeries): number {
  return series.x.length > 200 ? 1.6 : series.x.length > 40 ? 2.5 : 4
}

function sample(series: PlotSeries, look: SeriesLook, at: number): string {
  if (series.kind === 'points')
    return `<circle cx="${BOX.left + 14}" cy="${at}" r="4" fill="${look.colour}"/>`
  const dash = look.dash.length > 0 ? ` stroke-dasharray="${look.dash.join(' ')}"` : ''
  return `<path d="M${BOX.left} ${at}h28" stroke="${look.colour}" stroke-width="2"${dash}/>`
}
