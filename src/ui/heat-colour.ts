import { heatSwatch } from '../colour/heat-swatch.ts'
import { cssColour } from '../colour/screen-gamut.ts'
import { screenSpace } from '../sources/screen-space.ts'

/** Finer than any eye tells two small patches apart. */
const STEP_K = 5
const known = new Map<number, string>()

/** The hue of a grey body's glow, at one lightness for all, for CSS. */
export function heatColour(temperatureK: number): string {
  const step = Math.round(temperatureK / STEP_K)
  const before = known.get(step)
  if (before !== undefined) return before
  const settings = { view: { kind: 'hue' }, screen: screenSpace } as const
  const css = cssColour(heatSwatch(step * STEP_K, settings).colour)
  known.set(step, css)
  return css
}
