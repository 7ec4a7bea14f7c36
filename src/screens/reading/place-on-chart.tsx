import { useMemo } from 'preact/hooks'
import type { GlowEstimate } from '../../estimate/types.ts'
import { saysNothing } from '../../session/reading/next-step.ts'
import { HeatStripBar } from '../../ui/heat-strip.tsx'
import { stripColours, stripEnds } from '../../ui/strip-colours.ts'
import { showTemperature } from '../../ui/temperature.ts'
import style from './result.module.css'

/** The reading's place on the strip of heat colours, with its range. */
export function PlaceOnChart({ estimate }: { estimate: GlowEstimate }) {
  const hottestK = estimate.kind === 'temperature' ? estimate.temperatureK : 0
  const [fromK, toK] = stripEnds(hottestK)
  const colours = useMemo(() => stripColours(fromK, toK, 120), [fromK, toK])
  const place = (temperatureK: number) =>
    `${Math.min(100, Math.max(0, (100 * (temperatureK - fromK)) / (toK - fromK)))}%`
  const range =
    estimate.kind === 'temperature'
      ? estimate.interval95K
      : estimate.kind === 'below range'
        ? ([fromK, estimate.upperBoundK] as const)
        : null
  return (
    <a class={style.place} href="/chart" aria-label="Open the chart of heat colours">
      <HeatStripBar
        colours={colours}
        label={`Heat colours from ${showTemperature(fromK)} to ${showTemperature(toK)}`}
      />
      {range && (
        <span
          class={style.range}
          style={{ left: place(range[0]), right: `calc(100% - ${place(range[1])})` }}
        />
      )}
      {estimate.kind === 'temperature' && !saysNothing(estimate) && (
        <span class={style.pin} style={{ left: place(estimate.temperatureK) }} />
      )}
      <span class={`small soft ${style.ends}`}>
        <span>{showTemperature(fromK)}</span>
        <span>{showTemperature(toK)}</span>
      </span>
    </a>
  )
}
