import { useEffect, useRef } from 'preact/hooks'
import { cssColour, type ScreenColour } from '../colour/screen-gamut.ts'
import css from './heat-strip.module.css'

/** Paints a row of colours into a canvas of the screen's own space. */
export function paintStrip(canvas: HTMLCanvasElement, colours: readonly ScreenColour[]): void {
  const space = colours[0]?.space ?? 'srgb'
  const context = canvas.getContext('2d', { colorSpace: space }) ?? canvas.getContext('2d')
  if (!context) return
  const step = canvas.width / colours.length
  colours.forEach((colour, i) => {
    context.fillStyle = cssColour(colour)
    context.fillRect(Math.floor(i * step), 0, Math.ceil(step) + 1, canvas.height)
  })
}

/** A strip of colours, cold on the left. */
export function HeatStripBar({
  colours,
  label,
}: {
  colours: readonly ScreenColour[]
  label: string
}) {
  const canvas = useRef<HTMLCanvasElement>(null)
  useEffect(() => {
    if (canvas.current) paintStrip(canvas.current, colours)
  }, [colours])
  return (
    <canvas ref={canvas} class={css.strip} width={480} height={1} role="img" aria-label={label} />
  )
}
