import { useMemo } from 'preact/hooks'
import type { GlowEstimate } from '../../estimate/types.ts'
import { kelvinFromCelsius } from '../../physics/units.ts'
import { HeatStripBar } from '../../ui/heat-strip.tsx'
import { stripColours } from '../../ui/strip-colours.ts'
import { showTemperature } from '../../ui/temperature.ts'
import style from './result.module.css'

const FROM_K = kelvinFromCelsius(500)
const TO_K = kelvinFromCelsius(1500)
const place = (temperatureK: number) =>
  `${Math.min(100, Math.max(0, (100 * (temperatureK - FROM_K)) / (TO_K - FROM_K)))}%`

/** The reading's place on the strip of heat colours, with its range. */
export function PlaceOnChart({ estimate }: { estimate: GlowEstimate }) {
  const colours = useMemo(() => stripColours(FROM_K, TO_K, 120), [])
  const range =
    estimate.kind === 'temperature'
      ? estimate.interval95K
      : estimate.kind === 'below range'
        ? ([FROM_K, estimate.upperBoundK] as const)
        : null
  return (
    <a class={style.place} href="/chart" aria-label="Open the chart of heat colours">
      <HeatStripBar colours={colours} label="Heat colours from 500 to 1500 °C" />
      {range && (
        <span
          class={style.range}
          style={{ left: place(range[0]), right: `calc(100% - ${place(range[1])})` }}
        />
      )}
      {estimate.kind === 'temperature' && (
        <span class={style.pin} style={{ left: place(estimate.temperatureK) }} />
      )}
      <span class={`small soft ${style.ends}`}>
        <span>{showTemperature(FROM_K)}</span>
        <span>{showTemperature(TO_K)}</span>
      </span>
    </a>
  )
}
