import { useEffect, useMemo, useRef, useState } from 'preact/hooks'
import type uPlot from 'uplot'
import { afresh } from '../later.tsx'
import { saveFile } from '../save-file.ts'
import { say } from '../spoken.tsx'
import { type GestureTarget, listenToKeys, listenToPointers } from './gestures.ts'
import { pngOfSvg } from './picture.ts'
import css from './plot.module.css'
import { plotSvg } from './plot-svg.ts'
import { PlotTable } from './plot-table.tsx'
import type { PlotData, PlotSeries, PlotView } from './plot-types.ts'
import { lookOf, type PlotInk, screenInk } from './series-look.ts'
import { valueText } from './ticks.ts'
import { isWhole, movedPlot, wholePlot, zoomed } from './view.ts'

export interface PlotProps {
  /** The same object as long as it says the same: another one is drawn anew, whole. */
  readonly data: PlotData
  /** CSS pixels. */
  readonly height?: number
  /** Name of exported files, without ending. */
  readonly fileName: string
  /** A line in exported pictures: date, instrument. */
  readonly note?: string
  /** False where a glance is enough: fingers and keys still come nearer, the table stays. */
  readonly tools?: boolean
  /** The x under the cursor as it moves; null when it leaves. */
  readonly onCursor?: (x: number | null) => void
}

const BUTTON_ZOOM = 1.6

/**
 * Lines, bands and points over two axes. Pinch or Ctrl and wheel to come nearer, drag to move,
 * double tap or 0 for the whole; a table behind it and PNG or SVG of what is in sight.
 */
export function Plot({
  data,
  height = 280,
  fileName,
  note = '',
  tools = true,
  onCursor,
}: PlotProps) {
  const tellCursor = useRef(onCursor)
  tellCursor.current = onCursor
  const frame = useRef<HTMLElement>(null)
  const stage = useRef<HTMLDivElement>(null)
  const plot = useRef<uPlot | null>(null)
  const whole = useMemo(() => wholePlot(data), [data])
  const view = useRef<PlotView>(whole)
  const [near, setNear] = useState(false)
  const [cursor, setCursor] = useState<number | null>(null)
  const [ink, setInk] = useState<PlotInk | null>(null)
  const [error, setError] = useState<unknown>(null)
  const [tries, setTries] = useState(0)

  const target = useMemo((): GestureTarget => {
    const show = (next: PlotView) => {
      view.current = next
      setNear(!isWhole(next, whole))
      // Scales take their range from the view whatever is passed.
      plot.current?.batch(() => {
        plot.current?.setScale('x', { min: next.x[0], max: next.x[1] })
        plot.current?.setScale('y', { min: next.y[0], max: next.y[1] })
      })
    }
    return {
      zoom: (factor, shareX, shareY) =>
        show({
          x: zoomed(data.x, view.current.x, whole.x, shareX, factor),
          y: zoomed(data.y, view.current.y, whole.y, shareY, factor),
        }),
      move: (shareX, shareY) =>
        show({
          x: movedPlot(data.x, view.current.x, whole.x, shareX),
          y: movedPlot(data.y, view.current.y, whole.y, shareY),
        }),
      reset: () => show(whole),
      isWhole: () => isWhole(view.current, whole),
    }
  }, [data, whole])

  useEffect(() => {
    const element = stage.current
    if (!element || !frame.current) return
    view.current = whole
    setNear(false)
    let gone = false
    const undo: (() => void)[] = [listenToKeys(frame.current, target)]
    import('./load-uplot.ts').then(
      ({ makePlot }) => {
        if (gone) return
        const colours = screenInk(element)
        setInk(colours)
        const onMove = (x: number | null) => {
          setCursor(x)
          tellCursor.current?.(x)
        }
        const made = makePlot(element, data, colours, height, () => view.current, onMove)
        plot.current = made
        undo.push(listenToPointers(made.over, target), () => made.destroy())
        const watch = new ResizeObserver(() => made.setSize({ width: element.clientWidth, height }))
        watch.observe(element)
        undo.push(() => watch.disconnect())
      },
      (reason: unknown) => setError(reason),
    )
    return () => {
      gone = true
      plot.current = null
      for (const step of undo) step()
    }
  }, [data, height, target, whole, tries])

  const svg = () => plotSvg(data, view.current, note)
  return (
    <figure class={css.plot} ref={frame}>
      <div
        class={css.stage}
        ref={stage}
        style={{ minHeight: `${height}px` }}
        role="img"
        aria-label={data.title}
      />
      {error !== null && (
        <div class="stack">
          <p class="soft">The plot could not be loaded. The numbers are below.</p>
          <button
            type="button"
            onClick={afresh(error, () => {
              setError(null)
              setTries(tries + 1)
            })}
          >
            Try again
          </button>
        </div>
      )}
      <Key data={data} ink={ink} cursor={cursor} />
      {tools && (
        <div class="row tight no-print">
          <button
            type="button"
            onClick={() => target.zoom(BUTTON_ZOOM, 0.5, 0.5)}
            aria-label="Nearer"
          >
            +
          </button>
          <button
            type="button"
            onClick={() => target.zoom(1 / BUTTON_ZOOM, 0.5, 0.5)}
            disabled={!near}
            aria-label="Further"
          >
            −
          </button>
          <button type="button" onClick={target.reset} disabled={!near}>
            Whole
          </button>
          <button
            type="button"
            onClick={() =>
              saveFile(new Blob([svg()], { type: 'image/svg+xml' }), `${fileName}.svg`)
            }
          >
            SVG
          </button>
          <button
            type="button"
            onClick={() =>
              void pngOfSvg(svg()).then(
                (blob) => saveFile(blob, `${fileName}.png`),
                () => say('This browser could not draw the picture. The SVG holds the same.'),
              )
            }
          >
            PNG
          </button>
        </div>
      )}
      <PlotTable data={data} />
    </figure>
  )
}

/** What is what, with the values under the cursor. */
function Key({
  data,
  ink,
  cursor,
}: {
  data: PlotData
  ink: PlotInk | null
  cursor: number | null
}) {
  return (
    <ul class={`${css.key} small`}>
      {data.series.map((series, place) => {
        const value = cursor === null ? null : valueNear(series, cursor)
        return (
          <li key={series.label}>
            <Sample series={series} place={place} ink={ink} />
            {series.label}
            {value !== null && <output class="figure"> {valueText(data.y, value)}</output>}
          </li>
        )
      })}
      {cursor !== null && (
        <li class="soft figure">
          {data.x.label}: {valueText(data.x, cursor)}
        </li>
      )}
    </ul>
  )
}

function Sample({
  series,
  place,
  ink,
}: {
  series: PlotSeries
  place: number
  ink: PlotInk | null
}) {
  if (!ink) return null
  const { colour, dash } = lookOf(series, place, ink)
  return (
    <svg width="28" height="12" aria-hidden="true">
      {series.kind === 'points' ? (
        <circle cx="14" cy="6" r="4" fill={colour} />
      ) : (
        <path d="M0 6H28" stroke={colour} stroke-width="2.5" stroke-dasharray={dash.join(' ')} />
      )}
    </svg>
  )
}

/** The value whose x is nearest; null outside the series. */
function valueNear({ x, y }: PlotSeries, at: number): number | null {
  let best = -1
  let least = Number.POSITIVE_INFINITY
  let low = Number.POSITIVE_INFINITY
  let high = Number.NEGATIVE_INFINITY
  x.forEach((value, i) => {
    low = Math.min(low, value)
    high = Math.max(high, value)
    const distance = Math.abs(value - at)
    if (distance < least) {
      least = distance
      best = i
    }
  })
  return at >= low && at <= high ? (y[best] ?? null) : null
}
