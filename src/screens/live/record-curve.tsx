import { showTemperature } from '../../ui/temperature.ts'
import styles from './record-panel.module.css'

const [WIDTH, HEIGHT] = [300, 90]

/** The curve so far, with its lowest and highest temperature beside it. */
export function RecordCurve({ points }: { points: readonly (readonly [number, number])[] }) {
  const found = points.filter(([, kelvin]) => Number.isFinite(kelvin))
  const [first, last] = [found[0], found.at(-1)]
  if (!first || !last) return null
  const temperatures = found.map(([, kelvin]) => kelvin)
  const [low, high] = [Math.min(...temperatures), Math.max(...temperatures)]
  // Noise alone must not fill the picture.
  const middle = (low + high) / 2
  const half = Math.max((high - low) / 2, 10)
  const end = points.at(-1)?.[0] || 1
  let path = ''
  let drawing = false
  for (const [seconds, kelvin] of points) {
    if (!Number.isFinite(kelvin)) {
      drawing = false
      continue
    }
    const x = (WIDTH * seconds) / end
    const y = HEIGHT / 2 - ((HEIGHT / 2 - 4) * (kelvin - middle)) / half
    path += `${drawing ? 'L' : 'M'}${x.toFixed(1)} ${y.toFixed(1)}`
    drawing = true
  }
  return (
    <figure class={styles.curve}>
      <svg viewBox={`0 0 ${WIDTH} ${HEIGHT}`} preserveAspectRatio="none" role="img">
        <title>The curve so far</title>
        <path d={path} />
      </svg>
      <figcaption class="soft small">
        <span>{showTemperature(middle + half)}</span>
        <span>{showTemperature(middle - half)}</span>
      </figcaption>
    </figure>
  )
}
