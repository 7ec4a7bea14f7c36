import { importBundled } from './bundled.ts'
import { type Bench, median } from './figure.ts'

const SWATCHES = 200
/** CPU throttling that stands for a phone. */
const THROTTLE = 4

/** The computation in one redraw of the chart: 200 swatches, 500 to 1500 °C, worst screen. */
export const bench: Bench = async ({ short }) => {
  const { heatSwatches } = await importBundled<typeof import('../../src/colour/heat-swatch.ts')>(
    'src/colour/heat-swatch.ts',
  )
  const temperatures = Array.from(
    { length: SWATCHES },
    (_, i) => 773.15 + (1000 * i) / (SWATCHES - 1),
  )
  const look = (temperatureK: number) => ({
    greenOverRed: (temperatureK - 800) / 4000,
    blueOverRed: (temperatureK - 1500) / 6000,
  })
  const views = [{ kind: 'hue' }, { kind: 'dark-shop' }, { kind: 'camera', look }] as const
  return views.map((view) => {
    const redraw = () => {
      const start = performance.now()
      heatSwatches(temperatures, { view, screen: 'srgb', emissivity: (nm) => 0.8 - nm * 1e-4 })
      return performance.now() - start
    }
    for (let i = 0; i < 10; i++) redraw()
    return {
      name: `${SWATCHES} swatches in sRGB, view ${view.kind}, counted ${THROTTLE} times`,
      value: THROTTLE * median(Array.from({ length: short ? 9 : 99 }, redraw)),
      unit: 'ms',
      target: { atMost: 16 },
      timed: true,
    }
  })
}
