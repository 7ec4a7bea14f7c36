import { useEffect, useRef } from 'preact/hooks'
import { cssColour } from '../../colour/screen-gamut.ts'
import { showTemperature, temperatureUnit } from '../../ui/temperature.ts'
import { type ChartModel, stripAt } from './chart-model.ts'
import { marksOf } from './marks.ts'
import { heightOf, panSpan, spreadLabels, temperatureAt, ticks, WHOLE, zoomSpan } from './scale.ts'

export const PICTURE = { width: 358, height: 500 } as const
const BAND = { x: 52, width: 96 }
const COLUMNS = [154, 222, 290]
const COLUMN_WIDTH = 66
const LABEL_GAP = 15

/** The chart as one drawing: scale, colours, and one kind of marks. Hot is up. */
export function ChartPicture({ model }: { model: ChartModel }) {
  const box = useRef<HTMLDivElement>(null)
  const fingers = useRef(new Map<number, number>())
  const span = model.span.value
  const cursorK = model.cursorK.value
  const { height } = PICTURE

  const temperatureOf = (clientY: number) => {
    const rectangle = box.current?.getBoundingClientRect()
    if (!rectangle) return cursorK
    const y = ((clientY - rectangle.top) / rectangle.height) * height
    return temperatureAt(Math.min(height, Math.max(0, y)), span, height)
  }
  const onPointer = (event: PointerEvent) => {
    if (event.type === 'pointerdown') box.current?.setPointerCapture(event.pointerId)
    else if (!fingers.current.has(event.pointerId)) return
    const before = new Map(fingers.current)
    fingers.current.set(event.pointerId, event.clientY)
    if (fingers.current.size === 1) {
      model.cursorK.value = temperatureOf(event.clientY)
      return
    }
    const [a, b] = [...fingers.current.keys()]
    if (a === undefined || b === undefined || before.size < 2) return
    const gap = (of: Map<number, number>) => Math.abs((of.get(a) ?? 0) - (of.get(b) ?? 0))
    const middle = ((fingers.current.get(a) ?? 0) + (fingers.current.get(b) ?? 0)) / 2
    const former = ((before.get(a) ?? 0) + (before.get(b) ?? 0)) / 2
    const about = temperatureOf(middle)
    const zoomed = zoomSpan(
      span,
      Math.max(1, gap(fingers.current)) / Math.max(1, gap(before)),
      about,
    )
    model.span.value = panSpan(zoomed, temperatureOf(former) - about)
  }
  const onRelease = (event: PointerEvent) => fingers.current.delete(event.pointerId)
  useEffect(() => {
    const element = box.current
    if (!element) return
    // Not passive: the wheel zooms the chart and does not scroll the page while it is held over it.
    const onWheel = (event: WheelEvent) => {
      event.preventDefault()
      const about = temperatureOf(event.clientY)
      model.span.value = zoomSpan(model.span.value, event.deltaY < 0 ? 1.2 : 1 / 1.2, about)
    }
    element.addEventListener('wheel', onWheel, { passive: false })
    return () => element.removeEventListener('wheel', onWheel)
  })
  const onKeyDown = (event: KeyboardEvent) => {
    const step = event.shiftKey ? 50 : 5
    const moves: Record<string, number> = {
      ArrowUp: step,
      ArrowRight: step,
      ArrowDown: -step,
      ArrowLeft: -step,
      PageUp: 100,
      PageDown: -100,
    }
    const move = moves[event.key]
    if (move !== undefined) {
      const next = Math.min(WHOLE.highK, Math.max(WHOLE.lowK, cursorK + move))
      model.cursorK.value = next
      if (next > span.highK || next < span.lowK) model.span.value = panSpan(span, move)
    } else if (event.key === '+' || event.key === '=') {
      model.span.value = zoomSpan(span, 1.25, cursorK)
    } else if (event.key === '-') model.span.value = zoomSpan(span, 0.8, cursorK)
    else return
    event.preventDefault()
  }

  return (
    <div
      ref={box}
      class="chart-picture"
      role="slider"
      tabIndex={0}
      aria-label="Heat colours: place on the scale"
      aria-orientation="vertical"
      aria-valuemin={Math.round(WHOLE.lowK)}
      aria-valuemax={Math.round(WHOLE.highK)}
      aria-valuenow={Math.round(cursorK)}
      aria-valuetext={showTemperature(cursorK)}
      onPointerDown={onPointer}
      onPointerMove={onPointer}
      onPointerUp={onRelease}
      onPointerCancel={onRelease}
      onKeyDown={onKeyDown}
    >
      <Band model={model} />
      <Drawing model={model} />
    </div>
  )
}

/** The colours on a canvas: one row a pixel, taken from the strip that is computed once. */
function Band({ model }: { model: ChartModel }) {
  const canvas = useRef<HTMLCanvasElement>(null)
  const strip = model.strip.value
  const span = model.span.value
  const stepK = model.stepK.value
  useEffect(() => {
    const space = strip[0]?.colour.space ?? 'srgb'
    const context = canvas.current?.getContext('2d', { colorSpace: space })
    if (!context || !canvas.current) return
    const rows = canvas.current.height
    for (let y = 0; y < rows; y++) {
      const exact = temperatureAt(y + 0.5, span, rows)
      const shown = stepK > 0 ? (Math.floor(exact / stepK) + 0.5) * stepK : exact
      context.fillStyle = cssColour(stripAt(strip, shown).colour)
      context.fillRect(0, y, 1, 1)
    }
  }, [strip, span, stepK])
  return (
    <canvas
      ref={canvas}
      width={1}
      height={PICTURE.height}
      style={{
        left: `${(100 * BAND.x) / PICTURE.width}%`,
        width: `${(100 * BAND.width) / PICTURE.width}%`,
      }}
    />
  )
}

/** Scale, marks and the cursor; also what the SVG export keeps. */
export function Drawing({ model }: { model: ChartModel }) {
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
        <g key={text} class="tick">
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
      {inside(visible) && (
        <g class="visible">
          <path d={`M${BAND.x} ${y(visible)}h${BAND.width}`} />
          <text x={BAND.x + 4} y={y(visible) + 14}>
            seen from here
          </text>
        </g>
      )}
      <Cursor y={y(model.cursorK.value)} text={showTemperature(model.cursorK.value)} />
    </svg>
  )
}

function Cursor({ y, text }: { y: number; text: string }) {
  // Above the line, except at the very top, where it would leave the picture.
  const labelY = y > 24 ? y - 6 : y + 18
  return (
    <g class="cursor">
      <path class="under" d={`M${BAND.x - 4} ${y}H${BAND.x + BAND.width + 4}`} />
      <path d={`M${BAND.x - 4} ${y}H${BAND.x + BAND.width + 4}`} />
      <text class="cursor-place" x={BAND.x + BAND.width / 2} y={labelY} text-anchor="middle">
        {text}
      </text>
      <path class="grip" d={`M${BAND.x + BAND.width + 4} ${y}l8 -7v14z`} />
    </g>
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
