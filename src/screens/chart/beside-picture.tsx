import { type Signal, useSignal } from '@preact/signals'
import { useEffect, useRef } from 'preact/hooks'
import type { Beside } from '../../session/chart/match-model.ts'
import { Notices } from '../../ui/notices.tsx'
import { PICTURE_NOT_SHOWN, TAP_THE_GLOW } from '../../ui/words/match.ts'
import css from './chart.module.css'
import { coveredPoint, redLevelAt, sizeOf } from './red-level.ts'

const CLOSER = 4

/**
 * A photo or the live picture, edge to edge with the swatch. A tap brings that spot closer and tells
 * its brightness, so that only the colour differs.
 */
export function BesidePicture({
  beside,
  level,
}: {
  beside: Exclude<Beside, { kind: 'piece' }>
  level: Signal<number>
}) {
  const closer = useSignal<{ x: number; y: number } | null>(null)
  const failed = useSignal(false)
  const holder = useRef<HTMLDivElement>(null)
  const at = closer.value
  /** @param x, y 0..1 of the box */
  const toggle = (x: number, y: number) => {
    const picture = holder.current?.querySelector<
      HTMLImageElement | HTMLVideoElement | HTMLCanvasElement
    >('img, video, canvas')
    if (closer.peek() || !holder.current || !picture) {
      closer.value = null
      return
    }
    closer.value = { x, y }
    const box = { width: holder.current.clientWidth, height: holder.current.clientHeight }
    const spot = coveredPoint(box, sizeOf(picture), x, y)
    level.value = redLevelAt(picture, spot.x, spot.y) ?? level.peek()
  }
  return (
    <div class={css.besidePicture}>
      {failed.value ? (
        <Notices notices={[PICTURE_NOT_SHOWN]} />
      ) : (
        // A tap is the quick way for those who see; the button does the same for the middle.
        <div
          ref={holder}
          class={css.wholePicture}
          style={
            at
              ? { transform: `scale(${CLOSER})`, transformOrigin: `${100 * at.x}% ${100 * at.y}%` }
              : {}
          }
          onPointerDown={(event) => {
            const box = event.currentTarget.getBoundingClientRect()
            toggle((event.clientX - box.left) / box.width, (event.clientY - box.top) / box.height)
          }}
        >
          {beside.kind === 'photo' ? (
            <img
              src={beside.url}
              alt="Yours, to hold against the chart"
              onError={() => {
                failed.value = true
              }}
            />
          ) : (
            <LiveVideo picture={beside.live.camera.picture} />
          )}
        </div>
      )}
      {!at && !failed.value && <p class={`${css.tapHint} small`}>{TAP_THE_GLOW}</p>}
      <button
        type="button"
        class={css.closer}
        aria-label="Closer"
        aria-pressed={at !== null}
        onClick={() => toggle(0.5, 0.5)}
      >
        {at ? '−' : '+'}
      </button>
    </div>
  )
}

function LiveVideo({ picture }: { picture: HTMLElement }) {
  const holder = useRef<HTMLDivElement>(null)
  useEffect(() => {
    holder.current?.append(picture)
    return () => picture.remove()
  }, [picture])
  return <div ref={holder} role="img" aria-label="Live picture, to hold against the chart" />
}
