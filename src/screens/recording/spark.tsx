import styles from './recording.module.css'

/** A small curve without axes: temperatures evenly over the time, null in a gap. */
export function Spark({ values }: { values: readonly (number | null)[] }) {
  const found = values.filter((value): value is number => value !== null)
  const [low, high] = [Math.min(...found), Math.max(...found)]
  const span = high - low || 1
  let path = ''
  let drawing = false
  values.forEach((value, i) => {
    if (value === null) {
      drawing = false
      return
    }
    const x = (96 * i) / Math.max(values.length - 1, 1) + 2
    const y = 30 - (26 * (value - low)) / span
    path += `${drawing ? 'L' : 'M'}${x.toFixed(1)} ${y.toFixed(1)}`
    drawing = true
  })
  return (
    <svg class={styles.spark} viewBox="0 0 100 34" preserveAspectRatio="none" aria-hidden="true">
      <path d={path} />
    </svg>
  )
}
