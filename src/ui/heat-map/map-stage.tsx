import { useRef } from 'preact/hooks'
import type { Evenness } from '../../estimate/map/evenness.ts'
import type { HeatMap } from '../../estimate/map/heat-map.ts'
import { cellCentre, type Point } from '../../estimate/map/profile.ts'
import { showTemperature } from '../temperature.ts'
import css from './heat-map.module.css'
import type { Isotherm } from './isotherms.ts'

/** The picture that a map lies over. */
export interface MapPicture {
  /** Object URL; it fills the whole photo. */
  readonly url: string
  /** Size of the photo, in whose pixels maps are given. */
  readonly width: number
  readonly height: number
}

interface Props {
  readonly map: HeatMap
  readonly evenness: Evenness
  readonly picture: MapPicture | null
  readonly mapUrl: string | null
  /** 0..1 */
  readonly opacity: number
  readonly lines: readonly Isotherm[]
  /** The cell that is read; null: none. */
  readonly place: number | null
  readonly path: readonly Point[]
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
  const { map, evenness, picture, mapUrl, opacity, lines, place, path, label } = props
  const svg = useRef<SVGSVGElement>(null)
  const { left, top } = map
  const [width, height] = [map.columns * map.side, map.rows * map.side]
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
      aria-label={label}
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
      {lines.map((line) => (
        <g key={line.temperatureK}>
          <path class={css.under} d={line.path} />
          <path class={css.line} d={line.path} />
          {line.label && (
            <text class={css.label} x={line.label.x} y={line.label.y} font-size={3.4 * unit}>
              {showTemperature(line.temperatureK).replace(/ .*/, '')}
            </text>
          )}
        </g>
      ))}
      {path.length > 1 && (
        <>
          <polyline class={css.under} points={pointsOf(path)} />
          <polyline class={css.path} points={pointsOf(path)} />
        </>
      )}
      <Mark map={map} at={evenness.hottest} unit={unit} up />
      <Mark map={map} at={evenness.coolest} unit={unit} />
      {place !== null && <Cross at={cellCentre(map, place)} unit={unit} />}
    </svg>
  )
}

const pointsOf = (path: readonly Point[]) => path.map(({ x, y }) => `${x},${y}`).join(' ')

/** A triangle that points up at the hottest and down at the coolest place. */
function Mark({ map, at, unit, up }: { map: HeatMap; at: number; unit: number; up?: boolean }) {
  const { x, y } = cellCentre(map, at)
  const r = 2 * unit
  const tip = up ? -r : r
  return (
    <path
      class={css.mark}
      d={`M${x} ${y + tip}L${x + r} ${y - tip * 0.7}L${x - r} ${y - tip * 0.7}Z`}
    />
  )
}

function Cross({ at: { x, y }, unit }: { at: Point; unit: number }) {
  const r = 3 * unit
  const d = `M${x - r} ${y}H${x - r / 3}M${x + r / 3} ${y}H${x + r}M${x} ${y - r}V${y - r / 3}M${x} ${y + r / 3}V${y + r}`
  return (
    <>
      <path class={css.under} d={d} />
      <path class={css.line} d={d} />
    </>
  )
}
