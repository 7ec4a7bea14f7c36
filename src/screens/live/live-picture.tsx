import { useSignal } from '@preact/signals'
import { useEffect, useRef } from 'preact/hooks'
import type { Region } from '../../light/image.ts'
import type { LiveModel } from './live-model.ts'

/** Side of a fixed sight over the picture's height. */
const SIGHT = 0.12

/** What the camera sees, with the sight in it; a tap sets a fixed sight. */
export function LivePicture({ model }: { model: LiveModel }) {
  const holder = useRef<HTMLDivElement>(null)
  const dimmed = useSignal(false)
  const { picture } = model.camera
  useEffect(() => {
    holder.current?.prepend(picture)
    return () => picture.remove()
  }, [picture])

  const { width, height } = model.camera.size()
  const region = model.region.value
  const steady = model.rolling.value?.motion === 'steady'

  const sightAt = (x: number, y: number) => {
    const size = model.camera.size()
    const side = Math.min(SIGHT * size.height, size.width)
    const clamp = (v: number, most: number) => Math.min(Math.max(v, 0), most)
    const sight: Region = {
      shape: 'rectangle',
      x: clamp(x * size.width - side / 2, size.width - side),
      y: clamp(y * size.height - side / 2, size.height - side),
      width: side,
      height: side,
    }
    model.setSight(sight)
  }

  return (
    <div class="stack">
      {/* A tap is the quick way for those who see; the button below does the same for the middle. */}
      <div
        ref={holder}
        class={dimmed.value ? 'live-picture dimmed' : 'live-picture'}
        onPointerDown={(event) => {
          const box = event.currentTarget.getBoundingClientRect()
          sightAt((event.clientX - box.left) / box.width, (event.clientY - box.top) / box.height)
        }}
      >
        {region && (
          <svg viewBox={`0 0 ${width} ${height}`} aria-hidden="true">
            <rect
              class={steady ? 'sight steady' : 'sight'}
              x={region.x}
              y={region.y}
              width={region.width}
              height={region.height}
              vector-effect="non-scaling-stroke"
            />
          </svg>
        )}
      </div>
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
          onClick={() => (region ? model.setSight(region) : sightAt(0.5, 0.5))}
        >
          Fixed sight
        </button>
        <button
          type="button"
          aria-pressed={dimmed.value}
          onClick={() => {
            dimmed.value = !dimmed.value
          }}
        >
          Dim
        </button>
      </div>
    </div>
  )
}
