import { useRef } from 'preact/hooks'
import { type CellGrid, cellCentre, type Point } from '../../estimate/map/profile.ts'
import { showTemperature } from '../temperature.ts'
import css from './heat-map.module.css'
import type { Isotherm } from './isotherms.ts'
import drawing from './map-drawing.module.css'
import { type MapMarks, trianglePath } from './map-marks.ts'

/** The picture that a map lies over. */
export interface MapPicture {
  /** Object URL; it fills the whole photo. */
  readonly url: string
  /** Size of the photo, in whose pixels maps are given. */
  readonly width: number
  readonly height: number
}

/** A line over the map, with its letter. */
export interface Path {
  readonly points: readonly Point[]
  readonly letter: string
  /** The one that is worked on, and its corner that moves. */
  readonly chosen: boolean
  readonly corner: number
}

interface Props {
  readonly grid: CellGrid
  readonly marks: MapMarks
  readonly picture: MapPicture | null
  /** Object URL of the cells, one pixel each. */
  readonly mapUrl: string | null
  /** 0..1 */
  readonly opacity: number
  readonly lines: readonly Isotherm[]
  /** SVG path of the target band, filled where an odd number of its pieces lie. */
  readonly band?: string | null
  /** The cell that is read; null: none. */
  readonly place: number | null
  readonly paths: readonly Path[]
  readonly label: string
  /** A place was tapped. */
  onTap(point: Point): void
  /** By so many cells. */
  onMove(columns: number, rows: number): void
}

const STEPS: Record<string, readonly [number, number]> = {
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
  ArrowUp: [0, -1],
  ArrowDown: [0, 1],
}
/** Cells of a step with Shift. */
const LEAP = 8

/** The map over its picture, with isotherms, hottest and coolest place, and the place that is read. */
export function MapStage(props: Props) {
  const { grid, marks, picture, mapUrl, opacity, lines, band, place, paths } = props
  const svg = useRef<SVGSVGElement>(null)
  const { left, top } = grid
  const [width, height] = [grid.columns * grid.side, grid.rows * grid.side]
  const unit = Math.max(width, height) / 100
  const onPointerDown = (event: PointerEvent) => {
    const matrix = svg.current?.getScreenCTM()?.inverse()
    if (!matrix || event.button > 0) return
    const { x, y } = new DOMPoint(event.clientX, event.clientY).matrixTransform(matrix)
    props.onTap({ x, y })
  }
  const onKeyDown = (event: KeyboardEvent) => {
    const step = STEPS[event.key]
    if (!step) return
    event.preventDefault()
    const by = event.shiftKey ? LEAP : 1
    props.onMove(step[0] * by, step[1] * by)
  }
  return (
    <svg
      ref={svg}
      class={css.stage}
      style={{ aspectRatio: `${width} / ${height}` }}
      viewBox={`${left} ${top} ${width} ${height}`}
      role="application"
      aria-roledescription="map of the heat"
      aria-label={props.label}
      tabindex={0}
      onPointerDown={onPointerDown}
      onKeyDown={onKeyDown}
    >
      {picture && (
        <image
          href={picture.url}
          x="0"
          y="0"
          width={picture.width}
          height={picture.height}
          preserveAspectRatio="none"
        />
      )}
      {mapUrl && (
        <image
          class={css.cells}
          href={mapUrl}
          x={left}
          y={top}
          width={width}
          height={height}
          preserveAspectRatio="none"
          opacity={opacity}
        />
      )}
      {band && (
        <>
          <path class={css.bandUnder} d={band} fill-rule="evenodd" />
          <path class={drawing.band} d={band} fill-rule="evenodd" />
        </>
      )}
      {lines.map((line) => (
        <g key={line.temperatureK}>
          <path class={drawing.under} d={line.path} />
          <path class={drawing.line} d={line.path} />
          {line.label && (
            <text class={drawing.label} x={line.label.x} y={line.label.y} font-size={3.4 * unit}>
              {showTemperature(line.temperatureK).replace(/ .*/, '')}
            </text>
          )}
        </g>
      ))}
      {paths.map(({ points, letter, chosen, corner }) => (
        <g key={letter}>
          <polyline class={drawing.under} points={pointsOf(points)} />
          <polyline class={chosen ? css.path : css.otherPath} points={pointsOf(points)} />
          {chosen &&
            points.map(({ x, y }, i) => (
              <circle
                key={`${x} ${y}`}
                class={css.mark}
                cx={x}
                cy={y}
                r={i === corner ? 1.6 * unit : 0.8 * unit}
              />
            ))}
          {paths.length > 1 && points[0] && (
            <text
              class={drawing.label}
              x={points[0].x}
              y={points[0].y - 3.4 * unit}
              font-size={3.4 * unit}
            >
              {letter}
            </text>
          )}
        </g>
      ))}
      {marks.rings.map(({ at: { x, y }, radius, broken }) => (
        <g key={`${x} ${y}`}>
          <circle class={drawing.under} cx={x} cy={y} r={radius} />
          <circle class={broken ? css.brokenRing : css.ring} cx={x} cy={y} r={radius} />
        </g>
      ))}
      {marks.hottest && <path class={css.mark} d={trianglePath(marks.hottest, 2 * unit, true)} />}
      {marks.coolest && <path class={css.mark} d={trianglePath(marks.coolest, 2 * unit, false)} />}
      {place !== null && <Cross at={cellCentre(grid, place)} unit={unit} />}
    </svg>
  )
}

const pointsOf = (path: readonly Point[]) => path.map(({ x, y }) => `${x},${y}`).join(' ')

function Cross({ at: { x, y }, unit }: { at: Point; unit: number }) {
  const r = 3 * unit
  const d = `M${x - r} ${y}H${x - r / 3}M${x + r / 3} ${y}H${x + r}M${x} ${y - r}V${y - r / 3}M${x} ${y + r / 3}V${y + r}`
  return (
    <>
      <path class={drawing.under} d={d} />
      <path class={drawing.line} d={d} />
    </>
  )
}
