import { type Signal, useSignal } from '@preact/signals'
import { useEffect, useRef } from 'preact/hooks'
import type { Region } from '../../light/image.ts'
import { centreAt, moveBy, scaleBy } from '../../light/region-geometry.ts'
import type { LiveMap } from '../../session/live/live-map.ts'
import type { LiveModel } from '../../session/live/live-model-type.ts'
import { later } from '../../ui/later.tsx'
import css from './live.module.css'

const layer = () => import('./live-map-layer.tsx')
const LiveMapLayer = later<{ model: LiveModel; onMap: (map: LiveMap | null) => void }>(
  async () => (await layer()).LiveMapLayer,
)
const LiveMapLines = later<{ map: LiveMap; model: LiveModel }>(
  async () => (await layer()).LiveMapLines,
)
const LiveMapLegend = later<{ map: LiveMap }>(async () => (await layer()).LiveMapLegend)

const placeOf = ({ x, y, width, height }: Region) => ({ x, y, width, height })

/** Side of a fixed sight over the picture's height. */
const SIGHT = 0.12

const ARROWS: Record<string, readonly [number, number]> = {
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
  ArrowUp: [0, -1],
  ArrowDown: [0, 1],
}

/** What the camera sees, with sight and grey card in it; a tap places the one or the other. */
export function LivePicture({
  model,
  placing,
}: {
  model: LiveModel
  placing: Signal<'sight' | 'card'>
}) {
  const holder = useRef<HTMLDivElement>(null)
  const dimmed = useSignal(false)
  const mapped = useSignal(false)
  const map = useSignal<LiveMap | null>(null)
  const onMap = (next: LiveMap | null) => {
    map.value = next
  }
  const { picture } = model.camera
  useEffect(() => {
    holder.current?.prepend(picture)
    return () => picture.remove()
  }, [picture])

  const size = model.size.value
  const { width, height } = size
  const region = model.region.value
  const card = model.cardRegion.value
  const steady = model.rolling.value?.motion === 'steady'

  const sightAt = (x: number, y: number) => {
    const side = Math.min(SIGHT * height, width)
    const sight: Region = { shape: 'rectangle', x: 0, y: 0, width: side, height: side }
    model.setSight(centreAt(sight, x, y, size))
  }
  const placeAt = (x: number, y: number) => {
    if (placing.value === 'card' && card) model.setCard(centreAt(card, x, y, size))
    else if (map.value) map.value.place.value = { x, y }
    else sightAt(x, y)
  }
  const onKeyDown = (event: KeyboardEvent) => {
    const onCard = placing.value === 'card' && card
    const moving = onCard || region
    if (!moving) return
    const [dx, dy] = ARROWS[event.key] ?? [0, 0]
    const factor = event.key === '+' ? 1.1 : event.key === '-' ? 1 / 1.1 : 1
    if (!dx && !dy && factor === 1) return
    event.preventDefault()
    const step = Math.max(1, moving.width / 10)
    if (map.value && !onCard) {
      const { place } = map.value
      const from = place.peek() ?? {
        x: moving.x + moving.width / 2,
        y: moving.y + moving.height / 2,
      }
      place.value = {
        x: Math.min(Math.max(from.x + dx * step, 0), width - 1),
        y: Math.min(Math.max(from.y + dy * step, 0), height - 1),
      }
      return
    }
    const next = scaleBy(moveBy(moving, dx * step, dy * step, size), factor, factor, size)
    if (onCard) model.setCard(next)
    else model.setSight(next)
  }

  return (
    <div class="stack">
      <div
        ref={holder}
        class={dimmed.value ? `${css.livePicture} ${css.dimmed}` : css.livePicture}
        role="application"
        aria-roledescription="live picture"
        aria-label={`${placing.value === 'card' ? 'Grey card' : map.value ? 'Place of the map' : 'Sight'} in the live picture: arrow keys move it, plus and minus scale it.`}
        tabindex={0}
        onKeyDown={onKeyDown}
        onPointerDown={(event) => {
          const box = event.currentTarget.getBoundingClientRect()
          placeAt(
            (width * (event.clientX - box.left)) / box.width,
            (height * (event.clientY - box.top)) / box.height,
          )
        }}
      >
        {mapped.value && <LiveMapLayer model={model} onMap={onMap} />}
        {map.value && <LiveMapLines map={map.value} model={model} />}
        <svg viewBox={`0 0 ${width} ${height}`} aria-hidden="true">
          {region && (
            <rect class={steady ? `${css.sight} ${css.steady}` : css.sight} {...placeOf(region)} />
          )}
          {card && (
            <rect class={model.byCard.value ? `card ${css.steady}` : 'card'} {...placeOf(card)} />
          )}
        </svg>
      </div>
      <div class={css.liveTools}>
        <div class="segments">
          <button
            type="button"
            aria-pressed={model.follow.value}
            onClick={() => {
              model.follow.value = true
            }}
          >
            Follow
          </button>
          <button
            type="button"
            aria-pressed={!model.follow.value}
            onClick={() => (region ? model.setSight(region) : sightAt(width / 2, height / 2))}
          >
            Fixed sight
          </button>
        </div>
        <button
          type="button"
          aria-pressed={dimmed.value}
          onClick={() => {
            dimmed.value = !dimmed.value
          }}
        >
          Dim
        </button>
        <button
          type="button"
          aria-pressed={mapped.value}
          data-map={mapped.value}
          onClick={() => {
            mapped.value = !mapped.value
          }}
        >
          Map
        </button>
      </div>
      {map.value && <LiveMapLegend map={map.value} />}
    </div>
  )
}
