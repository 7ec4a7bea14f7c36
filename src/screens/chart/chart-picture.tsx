import { useRef } from 'preact/hooks'
import type { ChartModel } from '../../session/chart/chart-model.ts'
import { heightOf, spreadLabels, ticks } from '../../session/chart/scale.ts'
import { showTemperature, temperatureUnit } from '../../ui/temperature.ts'
import { BandStrip } from './band.tsx'
import css from './chart.module.css'
import { marksOf } from './marks.ts'
import { useScaleHands } from './scale-hands.ts'

const PICTURE = { width: 358, height: 500 } as const
const BAND = { x: 52, width: 96 }
const COLUMNS = [154, 222, 290]
const COLUMN_WIDTH = 66
const LABEL_GAP = 15

/** The chart as one drawing: scale, colours, and one kind of marks. Hot is up. */
export function ChartPicture({ model }: { model: ChartModel }) {
  const box = useRef<HTMLDivElement>(null)
  const hands = useScaleHands(model, box)
  return (
    <div ref={box} class={css.chartPicture} {...hands}>
      <BandStrip model={model} />
      <Drawing model={model} />
      <Cursor model={model} />
    </div>
  )
}

/** Scale and marks: drawn again only when the part that is seen, the unit or the marks change. */
function Drawing({ model }: { model: ChartModel }) {
  const { width, height } = PICTURE
  const span = model.span.value
  const unit = temperatureUnit.value
  const marks = marksOf(model.marks.value, model.materialIds.value)
  const y = (temperatureK: number) => heightOf(temperatureK, span, height)
  const inside = (temperatureK: number) => temperatureK >= span.lowK && temperatureK <= span.highK
  const points = marks.points.filter(({ temperatureK }) => inside(temperatureK)).reverse()
  const labels = spreadLabels(
    points.map(({ temperatureK }) => y(temperatureK)),
    LABEL_GAP,
    height,
  )
  const labelX = (marks.ranges.length > 0 ? (COLUMNS[1] ?? 0) : (COLUMNS[0] ?? 0)) + 14
  const visible = model.visibleFromK.value
  return (
    <svg viewBox={`0 0 ${width} ${height}`} aria-hidden="true">
      {ticks(span, unit, height, 34).map(({ temperatureK, text }) => (
        <g key={text} class={css.tick}>
          <path d={`M${BAND.x - 6} ${y(temperatureK)}h6`} />
          <text x={BAND.x - 9} y={y(temperatureK) + 4} text-anchor="end">
            {text}
          </text>
        </g>
      ))}
      {marks.ranges.map(({ name, fromK, toK, column }) => {
        const top = Math.max(0, y(toK))
        const bottom = Math.min(height, y(fromK))
        if (bottom - top < 1) return null
        const x = COLUMNS[column] ?? 0
        return (
          <g key={`${column}${name}`} class="range">
            <path d={`M${x + 5} ${top + 0.5}H${x}V${bottom - 0.5}H${x + 5}`} />
            {bottom - top >= 13 && (
              <Wrapped text={name} x={x + 4} y={(top + bottom) / 2} room={bottom - top} />
            )}
          </g>
        )
      })}
      {points.map(({ name, temperatureK }, i) => (
        <g key={`${name}${temperatureK}`} class="point">
          <path d={`M${labelX - 14} ${y(temperatureK)}h4L${labelX - 3} ${labels[i] ?? 0}`} />
          <Wrapped
            text={name}
            x={labelX}
            y={labels[i] ?? 0}
            room={LABEL_GAP}
            wide={width - labelX}
          />
        </g>
      ))}
      {model.viewKind.value !== 'camera' && inside(visible) && (
        <g class={css.visible}>
          <path d={`M${BAND.x} ${y(visible)}h${BAND.width}`} />
          <text x={BAND.x + 4} y={y(visible) + 14}>
            seen from here
          </text>
        </g>
      )}
    </svg>
  )
}

/** The pointer, on a drawing of its own: a thumb moves it many times a second. */
function Cursor({ model }: { model: ChartModel }) {
  const span = model.span.value
  const cursorK = model.cursorK.value
  const y = heightOf(cursorK, span, PICTURE.height)
  const range = model.rangeAt(cursorK)
  const place = (kelvin: number | null, end: number) =>
    kelvin === null
      ? end
      : Math.min(PICTURE.height, Math.max(0, heightOf(kelvin, span, PICTURE.height)))
  // Above the line, except at the very top, where it would leave the picture.
  const labelY = y > 24 ? -6 : 18
  const right = BAND.x + BAND.width
  if (y < -1 || y > PICTURE.height + 1) return null
  return (
    <svg viewBox={`0 0 ${PICTURE.width} ${PICTURE.height}`} aria-hidden="true">
      {range && (
        <g class={css.cursor}>
          {([css.under, ''] as const).map((layer) => (
            <path
              key={layer}
              class={layer}
              d={`M${right - 14} ${place(range.high95K, 0)}h8h-4V${place(range.low95K, PICTURE.height)}h-4h8`}
            />
          ))}
        </g>
      )}
      <g class={css.cursor} transform={`translate(0 ${y})`}>
        <path class={css.under} d={`M${BAND.x} 0H${right}`} />
        <path d={`M${BAND.x} 0H${right}`} />
        <text
          class={css.cursorPlace}
          x={BAND.x + BAND.width / 2 - (range ? 8 : 0)}
          y={labelY}
          text-anchor="middle"
        >
          {showTemperature(cursorK)}
        </text>
        {/* On the side of the scale: names stand on the other. */}
        <path class={css.grip} d={`M${BAND.x + 2} 0l-9 -6v12z`} />
      </g>
    </svg>
  )
}

const CHARACTER_WIDTH = 5.9

/** A label in at most two lines, centred on its place. */
function Wrapped(props: { text: string; x: number; y: number; room: number; wide?: number }) {
  const { text, x, y, room, wide = COLUMN_WIDTH } = props
  const fits = Math.floor(wide / CHARACTER_WIDTH)
  const words = text.split(' ')
  const lines: string[] = []
  for (const word of words) {
    const last = lines.at(-1)
    if (last !== undefined && last.length + word.length + 1 <= fits) {
      lines[lines.length - 1] = `${last} ${word}`
    } else lines.push(word)
  }
  const most = Math.max(1, Math.floor(room / 12))
  const shown =
    lines.length > most ? [...lines.slice(0, most - 1), lines.slice(most - 1).join(' ')] : lines
  return (
    <text x={x} y={y + 4 - ((shown.length - 1) * 12) / 2}>
      {shown.map((line, i) => (
        <tspan key={line} x={x} dy={i === 0 ? 0 : 12}>
          {line}
        </tspan>
      ))}
    </text>
  )
}
