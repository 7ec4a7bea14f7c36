import { cssColour } from '../../colour/screen-gamut.ts'
import { type ChartModel, steppedK } from '../../session/chart/chart-model.ts'
import { heightOf, spreadLabels, temperatureAt, ticks } from '../../session/chart/scale.ts'
import { temperatureUnit, UNIT_SYMBOLS } from '../../ui/temperature.ts'
import { type Marks, marksOf } from './marks.ts'

const SIZE = { width: 620, height: 960 } as const
const PLOT = { top: 90, left: 70, width: 140, height: 720 } as const
const COLUMN = 130

const escaped = (text: string) =>
  text.replace(
    /[&<>"]/g,
    (c) => ({ '&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&quot;' })[c] ?? c,
  )

const label = (x: number, y: number, text: string, more = '') =>
  `<text x="${x}" y="${y.toFixed(1)}" ${more}>${escaped(text)}</text>`

/** The chart as a picture of its own, with date, method and caution; for paper: dark on white. */
export function chartSvg(
  model: ChartModel,
  facts: {
    readonly date: string
    readonly method: { readonly name: string; readonly line: string }
    /** Surface, room, camera: what the colours were computed for. */
    readonly conditions: string
    readonly caution: string
  },
): string {
  const span = model.span.value
  const unit = temperatureUnit.value
  const y = (temperatureK: number) => PLOT.top + heightOf(temperatureK, span, PLOT.height)
  const rows = 240
  const step = PLOT.height / rows
  const colours = Array.from({ length: rows }, (_, i) => {
    const exact = temperatureAt((i + 0.5) * step, span, PLOT.height)
    const strip = model.strip.value
    const codes = strip.codesAt(steppedK(exact, model.step.value, unit))
    return `<rect x="${PLOT.left}" y="${(PLOT.top + i * step).toFixed(2)}" width="${PLOT.width}" height="${(step + 0.3).toFixed(2)}" style="fill:${cssColour({ space: strip.space, codes })}"/>`
  })
  const scale = ticks(span, unit, PLOT.height, 40).map(
    ({ temperatureK, text }) =>
      `<path d="M${PLOT.left - 6} ${y(temperatureK).toFixed(1)}h6"/>${label(PLOT.left - 10, y(temperatureK) + 4, text, 'text-anchor="end"')}`,
  )
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${SIZE.width} ${SIZE.height}" width="${SIZE.width}" height="${SIZE.height}" font-family="sans-serif" font-size="13">`,
    '<rect width="100%" height="100%" fill="#fff"/>',
    label(20, 32, 'Heat colours', 'font-size="22" font-weight="bold"'),
    label(20, 54, `${facts.method.name}. ${facts.date}. Glowbook.`),
    label(PLOT.left - 10, PLOT.top - 14, UNIT_SYMBOLS[unit], 'text-anchor="end"'),
    ...colours,
    '<g stroke="#555" fill="none" stroke-width="1">',
    ...scale.map((tick) => tick.replace('<text', '<text stroke="none" fill="#000"')),
    '</g>',
    ...drawMarks(
      marksOf(model.marks.value, model.materialIds.value),
      y,
      PLOT.top,
      PLOT.top + PLOT.height,
    ),
    ...folded(`${facts.method.line} ${facts.conditions} ${facts.caution}`, 86).map((line, i) =>
      label(20, PLOT.top + PLOT.height + 34 + 17 * i, line, 'font-size="12" fill="#333"'),
    ),
    '</svg>',
  ].join('\n')
}

function drawMarks(
  marks: Marks,
  y: (temperatureK: number) => number,
  top: number,
  bottom: number,
): string[] {
  const x = (column: number) => PLOT.left + PLOT.width + 16 + column * COLUMN
  const lines = marks.columnNames.map((name, i) =>
    label(x(i), top - 14, name, 'font-weight="bold"'),
  )
  for (const { name, fromK, toK, column } of marks.ranges) {
    const high = Math.max(top, y(toK))
    const low = Math.min(bottom, y(fromK))
    if (low <= high) continue
    lines.push(
      `<path d="M${x(column) + 5} ${high.toFixed(1)}h-5V${low.toFixed(1)}h5" fill="none" stroke="#555"/>`,
      label(x(column) + 6, (high + low) / 2 + 4, name),
    )
  }
  const points = marks.points
    .filter(({ temperatureK }) => y(temperatureK) >= top && y(temperatureK) <= bottom)
    .sort((a, b) => b.temperatureK - a.temperatureK)
  const places = spreadLabels(
    points.map(({ temperatureK }) => y(temperatureK) - top),
    16,
    bottom - top,
  )
  const column = marks.ranges.length > 0 ? 1 : 0
  points.forEach(({ name, temperatureK }, i) => {
    const place = top + (places[i] ?? 0)
    lines.push(
      `<path d="M${x(column)} ${y(temperatureK).toFixed(1)}h6L${x(column) + 16} ${place.toFixed(1)}" fill="none" stroke="#555"/>`,
      label(x(column) + 20, place + 4, name),
    )
  })
  return lines
}

function folded(text: string, most: number): string[] {
  const lines: string[] = []
  for (const word of text.split(' ')) {
    const last = lines.at(-1)
    if (last !== undefined && last.length + word.length < most)
      lines[lines.length - 1] = `${last} ${word}`
    else lines.push(word)
  }
  return lines
}
