import type { TemperatureUnit } from '../../physics/units.ts'
import { temperatureFromUnit, temperatureInUnit } from '../../physics/units.ts'

/** The part of the temperature axis that is seen. */
export interface Span {
  readonly lowK: number
  readonly highK: number
}

/** The whole chart: from a little below the first glow to lamp filaments. */
export const WHOLE: Span = { lowK: 773.15, highK: 3000 }
/** Steel and heating elements: 500 to 1500 °C. */
export const WORKSHOP: Span = { lowK: 773.15, highK: 1773.15 }
const NARROWEST_K = 60

/** Distance from the top of the chart; hot is up. */
export const heightOf = (temperatureK: number, { lowK, highK }: Span, height: number): number =>
  ((highK - temperatureK) / (highK - lowK)) * height

/** The inverse of {@link heightOf}. */
export const temperatureAt = (y: number, { lowK, highK }: Span, height: number): number =>
  highK - (y / height) * (highK - lowK)

/** Zooms about a temperature; factor above 1 comes closer. */
export function zoomSpan({ lowK, highK }: Span, factor: number, aboutK: number): Span {
  const width = Math.min(WHOLE.highK - WHOLE.lowK, Math.max(NARROWEST_K, (highK - lowK) / factor))
  const share = (aboutK - lowK) / (highK - lowK)
  return within(aboutK - share * width, width)
}

export function panSpan({ lowK, highK }: Span, byK: number): Span {
  return within(lowK + byK, highK - lowK)
}

function within(lowK: number, width: number): Span {
  const low = Math.min(Math.max(lowK, WHOLE.lowK), WHOLE.highK - width)
  return { lowK: low, highK: low + width }
}

const STEPS = [10, 20, 50, 100, 200, 500]

/** Round values of the unit inside the span, at least `gap` pixels apart. */
export function ticks(
  span: Span,
  unit: TemperatureUnit,
  height: number,
  gap: number,
): { readonly temperatureK: number; readonly text: string }[] {
  const low = temperatureInUnit(span.lowK, unit)
  const high = temperatureInUnit(span.highK, unit)
  const step = STEPS.find((s) => (s / (high - low)) * height >= gap) ?? 1000
  const found = []
  for (let value = Math.ceil(low / step - 1e-9) * step; value <= high + 1e-9; value += step) {
    found.push({ temperatureK: temperatureFromUnit(value, unit), text: value.toFixed(0) })
  }
  return found
}

/**
 * Moves labels apart that would lie on each other, as little as possible: groups that touch are
 * spread about their common middle (pool adjacent violators).
 *
 * @param wanted places from small to large
 * @returns places at least `gap` apart, in the same order, inside 0..length where they fit
 */
export function spreadLabels(wanted: readonly number[], gap: number, length: number): number[] {
  const groups: { first: number; count: number; sum: number }[] = []
  wanted.forEach((place, i) => {
    groups.push({ first: i, count: 1, sum: place - i * gap })
    for (;;) {
      const b = groups.at(-1)
      const a = groups.at(-2)
      if (!a || !b || a.sum / a.count <= b.sum / b.count) break
      groups.splice(-2, 2, { first: a.first, count: a.count + b.count, sum: a.sum + b.sum })
    }
  })
  const places: number[] = []
  const room = Math.max(0, length - (wanted.length - 1) * gap)
  for (const { count, sum } of groups) {
    const base = Math.min(Math.max(sum / count, 0), room)
    for (let i = 0; i < count; i++) places.push(base + places.length * gap)
  }
  return places
}
