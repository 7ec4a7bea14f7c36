import { useMemo } from 'preact/hooks'
import { heatSwatches } from '../../colour/heat-swatch.ts'
import { chromaticityAtHueLightness, nearestSwatch } from '../../colour/nearest-swatch.ts'
import type { EyeView } from '../../estimate/types.ts'
import { kelvinFromCelsius } from '../../physics/units.ts'
import { screenSpace } from '../../sources/screen-space.ts'
import { showTemperature } from '../../ui/temperature.ts'

/** Swatches of the hue-only view, every 10 °C from 500 to 1500 °C. */
const SWATCHES_K = Array.from({ length: 101 }, (_, i) => kelvinFromCelsius(500 + 10 * i))

/** The chart's swatch that the picture's colour comes nearest to: what an eye would choose. */
export function NearestSwatch({ eye }: { eye: EyeView }) {
  const found = useMemo(() => {
    const swatches = heatSwatches(SWATCHES_K, { view: { kind: 'hue' }, screen: screenSpace })
    return nearestSwatch(chromaticityAtHueLightness({ x: eye.x, y: eye.y }), swatches)
  }, [eye.x, eye.y])
  const temperatureK = found && SWATCHES_K[found.index]
  if (!temperatureK) return null
  return (
    <>
      <dt>Nearest swatch</dt>
      <dd>
        {showTemperature(temperatureK)}, CIEDE2000 {found.difference.toFixed(1)}
      </dd>
    </>
  )
}
