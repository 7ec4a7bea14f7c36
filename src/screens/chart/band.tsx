import { useLayoutEffect, useRef } from 'preact/hooks'
import { type ChartModel, steppedK } from '../../session/chart/chart-model.ts'
import { temperatureAt } from '../../session/chart/scale.ts'
import { temperatureUnit } from '../../ui/temperature.ts'
import css from './chart.module.css'

const ROWS = 500

/** The colours on a canvas of one column, taken from the strip. */
export function BandStrip({ model }: { model: ChartModel }) {
  const canvas = useRef<HTMLCanvasElement>(null)
  const strip = model.strip.value
  const span = model.span.value
  const step = model.step.value
  const unit = temperatureUnit.value
  // With the drawing of its scale, in one frame.
  useLayoutEffect(() => {
    const colorSpace = strip.space
    const context = canvas.current?.getContext('2d', { colorSpace })
    if (!context) return
    // Codes straight into the pixels: as CSS colours the rows would be written and read as text.
    const image = context.createImageData(1, ROWS, { colorSpace })
    for (let y = 0; y < ROWS; y++) {
      const shown = steppedK(temperatureAt(y + 0.5, span, ROWS), step, unit)
      const [r, g, b] = strip.codesAt(shown)
      image.data[4 * y] = 255 * r
      image.data[4 * y + 1] = 255 * g
      image.data[4 * y + 2] = 255 * b
      image.data[4 * y + 3] = 255
    }
    context.putImageData(image, 0, 0)
  }, [strip, span, step, unit])
  return <canvas ref={canvas} class={css.band} width={1} height={ROWS} />
}
