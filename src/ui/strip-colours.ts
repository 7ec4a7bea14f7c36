import { heatSwatches } from '../colour/heat-swatch.ts'
import type { ScreenColour } from '../colour/screen-gamut.ts'
import { kelvinFromCelsius } from '../physics/units.ts'
import { screenSpace } from '../sources/screen-space.ts'

const COLD_K = kelvinFromCelsius(500)
const FORGE_K = kelvinFromCelsius(1500)
const FILAMENT_K = kelvinFromCelsius(3000)

/** Ends of the strip on which a reading is shown, K: the heats of a forge, or up to those of filaments. */
export const stripEnds = (temperatureK: number): readonly [number, number] => [
  COLD_K,
  temperatureK > FORGE_K ? FILAMENT_K : FORGE_K,
]

/** Heat colours of a grey body, even in temperature, in the dark-shop view. */
export function stripColours(fromK: number, toK: number, count: number): ScreenColour[] {
  const temperaturesK = Array.from(
    { length: count },
    (_, i) => fromK + ((toK - fromK) * (i + 0.5)) / count,
  )
  return heatSwatches(temperaturesK, { view: { kind: 'dark-shop' }, screen: screenSpace }).map(
    ({ colour }) => colour,
  )
}
