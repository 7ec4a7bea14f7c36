import { useId } from 'preact/hooks'
import { type LocusInKelvin, locusInKelvin } from '../estimate/locus-in-kelvin.ts'
import type { LocusView } from '../estimate/types.ts'
import {
  differenceFromUnit,
  differenceInUnit,
  temperatureFromUnit,
  temperatureInUnit,
} from '../physics/units.ts'
import './locus-plot.css'
import { temperatureUnit, UNIT_SYMBOLS } from './temperature.ts'

const WIDTH = 360
const HEIGHT = 230
const LEFT = 46
const RIGHT = 10
const TOP = 12
const BOTTOM = 30

/** Work with glowing metal; further right only where a lamp is among the references. */
const FROM_K = 950
const TO_K = 1600
/** Half of the height: the widest band of the range of work, within these. */
const LEAST_HALF_K = 60
const LARGEST_HALF_K = 250

interface Span {
  readonly fromK: number
  readonly toK: number
  readonly halfK: number
}

function spanOf({ prior, references }: LocusInKelvin): Span {
  const hottest = Math.max(0, ...references.map((reference) => reference.temperatureK))
  const widest = prior.temperatureK.map((t, i) =>
    t < FROM_K || t > TO_K ? 0 : Math.max(prior.high95K[i]!, -prior.low95K[i]!),
  )
  return {
    fromK: FROM_K,
    toK: hottest > TO_K ? hottest + 100 : TO_K,
    halfK: Math.min(LARGEST_HALF_K, Math.max(LEAST_HALF_K, 1.05 * Math.max(...widest))),
  }
}

/** Round values between two, a few of them. */
function ticks(from: number, to: number, most: number): number[] {
  const step = [10, 20, 50, 100, 200, 500, 1000].find((s) => (to - from) / s <= most) ?? 2000
  const first = Math.ceil(from / step) * step
  return Array.from({ length: Math.floor((to - first) / step) + 1 }, (_, i) => first + i * step)
}

/**
 * How far this camera may be off over temperature: any camera's band, this one's after its known
 * heats, and the known heats with their bars.
 */
export function LocusPlot({ view }: { view: LocusView }) {
  const inside = useId()
  const unit = temperatureUnit.value
  const seen = locusInKelvin(view)
  const span = spanOf(seen)
  const x = (temperatureK: number) =>
    LEFT + ((temperatureK - span.fromK) / (span.toK - span.fromK)) * (WIDTH - LEFT - RIGHT)
  const y = (departureK: number) => {
    const within = Math.min(span.halfK, Math.max(-span.halfK, departureK))
    return TOP + ((span.halfK - within) / (2 * span.halfK)) * (HEIGHT - TOP - BOTTOM)
  }
  const area = ({ temperatureK, low95K, high95K }: LocusInKelvin['prior']) => {
    const points = temperatureK.map((t, i) => [t, low95K[i]!, high95K[i]!] as const)
    const path = (line: readonly (readonly [number, number])[]) =>
      line.map(([t, k]) => `${x(t).toFixed(1)} ${y(k).toFixed(1)}`).join('L')
    const there = path(points.map(([t, , high]) => [t, high]))
    const back = path(points.map(([t, low]) => [t, low] as const).reverse())
    return `M${there}L${back}Z`
  }
  const across = ticks(
    temperatureInUnit(span.fromK, unit),
    temperatureInUnit(span.toK, unit),
    5,
  ).map((value) => ({ value, at: x(temperatureFromUnit(value, unit)) }))
  const half = differenceInUnit(span.halfK, unit)
  const upwards = ticks(-half, half, 6).map((value) => ({
    value,
    at: y(differenceFromUnit(value, unit)),
  }))
  const { references } = seen
  return (
    <figure class="locus-plot">
      <svg
        viewBox={`0 0 ${WIDTH} ${HEIGHT}`}
        role="img"
        aria-label={`How far this camera may read off, over temperature: the band of any camera, the narrower band of this one, and ${references.length} known ${references.length === 1 ? 'heat' : 'heats'}.`}
      >
        <clipPath id={inside}>
          <rect x={LEFT} y={TOP} width={WIDTH - LEFT - RIGHT} height={HEIGHT - TOP - BOTTOM} />
        </clipPath>
        <g class="grid">
          {upwards.map(({ value, at }) => (
            <g key={value}>
              <path d={`M${LEFT} ${at}H${WIDTH - RIGHT}`} class={value === 0 ? 'zero' : ''} />
              <text x={LEFT - 6} y={at + 4} text-anchor="end">
                {value > 0 ? `+${value}` : value === 0 ? '0' : `−${-value}`}
              </text>
            </g>
          ))}
          {across.map(({ value, at }) => (
            <g key={value}>
              <path d={`M${at} ${TOP}V${HEIGHT - BOTTOM}`} />
              <text x={at} y={HEIGHT - BOTTOM + 16} text-anchor="middle">
                {value}
              </text>
            </g>
          ))}
          <text x={WIDTH - RIGHT} y={HEIGHT - 1} text-anchor="end">
            {UNIT_SYMBOLS[unit]}
          </text>
        </g>
        <g clip-path={`url(#${inside})`}>
          <path class="prior" d={area(seen.prior)} />
          <path class="posterior" d={area(seen.posterior)} />
          {references.map(({ id, temperatureK, departureK, standardUncertaintyK }) => (
            <g key={id} class="known">
              <path
                d={`M${x(temperatureK)} ${y(departureK - 2 * standardUncertaintyK)}V${y(departureK + 2 * standardUncertaintyK)}`}
              />
              <circle cx={x(temperatureK)} cy={y(departureK)} r="4.5" />
            </g>
          ))}
        </g>
      </svg>
      <figcaption class="small soft">
        <span class="key prior" aria-hidden="true" /> any camera{' '}
        <span class="key posterior" aria-hidden="true" /> this camera{' '}
        {references.length > 0 && (
          <>
            <span class="key known" aria-hidden="true" /> known heats, ± 2 standard uncertainties.{' '}
          </>
        )}
        Up reads too hot, down too cold.
      </figcaption>
    </figure>
  )
}
