import type { ComponentChildren } from 'preact'
import { useEffect, useRef, useState } from 'preact/hooks'
import type { Region } from '../light/image.ts'
import {
  CORNERS,
  type Corner,
  centreAt,
  dragCorner,
  moveBy,
  type Size,
  scaleBy,
  type View,
  viewOfRegion,
  wholeView,
  zoomView,
} from '../light/region-geometry.ts'
import css from './region-stage.module.css'

type Grip = { kind: 'corner'; corner: Corner } | { kind: 'body'; fromX: number; fromY: number }

interface Props {
  /** Object URL of the picture, downscaled or not; it fills the whole photo. */
  readonly pictureUrl: string
  /** Object URL of the clipped and floor marks, or null. */
  readonly marksUrl: string | null
  /** Size of the photo in its own pixels; regions are given in these. */
  readonly photo: Size
  readonly region: Region
  /** Another region, shown but not movable. */
  readonly other?: Region | null
  readonly label: string
  readonly onRegion: (region: Region) => void
  /** What stands under the picture, beside the button. */
  readonly children?: ComponentChildren
}

/**
 * Handles are drawn in photo pixels but must stay a thumb wide on the glass. They stand outside the
 * corners, so that a small region is not hidden by its own handles.
 */
const HANDLE_PX = 9
const REACH_PX = 30

const outline = (region: Region, className: string | undefined) =>
  region.shape === 'ellipse' ? (
    <ellipse
      class={className}
      cx={region.x + region.width / 2}
      cy={region.y + region.height / 2}
      rx={region.width / 2}
      ry={region.height / 2}
    />
  ) : (
    <rect class={className} x={region.x} y={region.y} width={region.width} height={region.height} />
  )

/** The photo with a region that is moved by touch, mouse and keyboard. */
export function RegionStage(props: Props) {
  const { pictureUrl, marksUrl, photo, region, other, label, onRegion, children } = props
  const svg = useRef<SVGSVGElement>(null)
  const grip = useRef<Grip | null>(null)
  const fingers = useRef(new Map<number, { x: number; y: number }>())
  const [view, setView] = useState<View>(() => wholeView(photo))
  const [pixelsPerCss, setPixelsPerCss] = useState(1)

  useEffect(() => setView(wholeView(photo)), [pictureUrl])
  useEffect(() => {
    const element = svg.current
    if (!element) return
    const measure = () => {
      const scale = element.getScreenCTM()?.a ?? 1
      if (scale > 0) setPixelsPerCss(1 / scale)
    }
    measure()
    const observer = new ResizeObserver(measure)
    observer.observe(element)
    return () => observer.disconnect()
  }, [view])

  const toPhoto = (event: PointerEvent | WheelEvent) => {
    const matrix = svg.current?.getScreenCTM()?.inverse()
    if (!matrix) return { x: 0, y: 0 }
    const { x, y } = new DOMPoint(event.clientX, event.clientY).matrixTransform(matrix)
    return { x, y }
  }

  const onPointerDown = (event: PointerEvent) => {
    if (event.button > 0) return
    svg.current?.setPointerCapture(event.pointerId)
    const at = toPhoto(event)
    fingers.current.set(event.pointerId, { x: event.clientX, y: event.clientY })
    if (fingers.current.size > 1) {
      grip.current = null
      return
    }
    const reach = REACH_PX * pixelsPerCss
    const corner = CORNERS.find(([sx, sy]) => {
      const cx = region.x + ((sx + 1) / 2) * region.width
      const cy = region.y + ((sy + 1) / 2) * region.height
      // A corner's reach extends outwards, so that a small region can still be moved by its middle.
      const dx = (at.x - cx) * sx
      const dy = (at.y - cy) * sy
      return Math.max(dx, dy) < reach && Math.min(dx, dy) > -Math.min(reach, region.width / 4)
    })
    if (corner) grip.current = { kind: 'corner', corner }
    else {
      const inside =
        at.x >= region.x &&
        at.x <= region.x + region.width &&
        at.y >= region.y &&
        at.y <= region.y + region.height
      if (!inside) onRegion(centreAt(region, at.x, at.y, photo))
      grip.current = { kind: 'body', fromX: at.x, fromY: at.y }
    }
  }

  const onPointerMove = (event: PointerEvent) => {
    const before = fingers.current.get(event.pointerId)
    if (!before) return
    if (fingers.current.size === 2) {
      const [a, b] = [...fingers.current.entries()].map(([id, point]) =>
        id === event.pointerId
          ? { old: point, now: { x: event.clientX, y: event.clientY } }
          : { old: point, now: point },
      )
      if (a && b) {
        const span = (p: 'old' | 'now') => Math.hypot(a[p].x - b[p].x, a[p].y - b[p].y)
        const at = toPhoto(event)
        setView(zoomView(view, span('now') / Math.max(1, span('old')), at.x, at.y, photo))
      }
    } else if (grip.current) {
      const at = toPhoto(event)
      if (grip.current.kind === 'corner') {
        onRegion(dragCorner(region, grip.current.corner, at.x, at.y, photo))
      } else {
        onRegion(moveBy(region, at.x - grip.current.fromX, at.y - grip.current.fromY, photo))
        grip.current = { kind: 'body', fromX: at.x, fromY: at.y }
      }
    }
    fingers.current.set(event.pointerId, { x: event.clientX, y: event.clientY })
  }

  const onPointerUp = (event: PointerEvent) => {
    fingers.current.delete(event.pointerId)
    grip.current = null
  }

  const onWheel = (event: WheelEvent) => {
    event.preventDefault()
    const at = toPhoto(event)
    setView(zoomView(view, event.deltaY < 0 ? 1.25 : 0.8, at.x, at.y, photo))
  }

  const onKeyDown = (event: KeyboardEvent) => {
    const step = event.altKey ? 1 : Math.max(1, Math.min(region.width, region.height) / 10)
    const arrows: Record<string, [number, number]> = {
      ArrowLeft: [-1, 0],
      ArrowRight: [1, 0],
      ArrowUp: [0, -1],
      ArrowDown: [0, 1],
    }
    const arrow = arrows[event.key]
    if (arrow && event.shiftKey) {
      onRegion(scaleBy(region, 1.1 ** arrow[0], 1.1 ** -arrow[1], photo))
    } else if (arrow) {
      onRegion(moveBy(region, arrow[0] * step, arrow[1] * step, photo))
    } else if (event.key === '+' || event.key === '=') onRegion(scaleBy(region, 1.1, 1.1, photo))
    else if (event.key === '-') onRegion(scaleBy(region, 1 / 1.1, 1 / 1.1, photo))
    else return
    event.preventDefault()
  }

  const handle = HANDLE_PX * pixelsPerCss
  const closeUp = view.width < photo.width
  const place = `${Math.round(region.width)} by ${Math.round(region.height)} pixels at ${Math.round(region.x)}, ${Math.round(region.y)}`
  return (
    <div class={css.stage}>
      <svg
        ref={svg}
        viewBox={`${view.x} ${view.y} ${view.width} ${view.height}`}
        role="application"
        aria-roledescription="region on the photo"
        aria-label={`${label}: ${place}. Arrow keys move it, with Shift they resize it, plus and minus scale it.`}
        tabindex={0}
        onPointerDown={onPointerDown}
        onPointerMove={onPointerMove}
        onPointerUp={onPointerUp}
        onPointerCancel={onPointerUp}
        onWheel={onWheel}
        onKeyDown={onKeyDown}
      >
        <image
          href={pictureUrl}
          x="0"
          y="0"
          width={photo.width}
          height={photo.height}
          preserveAspectRatio="none"
        />
        {marksUrl && (
          <image
            class={css.marks}
            href={marksUrl}
            x="0"
            y="0"
            width={photo.width}
            height={photo.height}
            preserveAspectRatio="none"
          />
        )}
        {other && outline(other, `${css.outline} ${css.other}`)}
        {outline(region, `${css.outline} ${css.under}`)}
        {outline(region, css.outline)}
        {CORNERS.map(([sx, sy]) => (
          <circle
            key={`${sx}${sy}`}
            class={css.handle}
            cx={region.x + ((sx + 1) / 2) * region.width + sx * handle}
            cy={region.y + ((sy + 1) / 2) * region.height + sy * handle}
            r={handle}
          />
        ))}
      </svg>
      <div class={css.stageTools}>
        <div class="grow">{children}</div>
        <button
          type="button"
          onClick={() => setView(closeUp ? wholeView(photo) : viewOfRegion(region, photo))}
        >
          {closeUp ? 'Whole photo' : 'Close-up'}
        </button>
      </div>
    </div>
  )
}
