import { heatSwatches } from '../colour/heat-swatch.ts'
import type { ScreenColour } from '../colour/screen-gamut.ts'
import { screenSpace } from '../sources/screen-space.ts'

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
