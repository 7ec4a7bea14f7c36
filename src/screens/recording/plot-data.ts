import type { HeatCurve } from '../../estimate/recording/heat-curve.ts'
import type { Plateau } from '../../estimate/recording/plateaus.ts'
import type { Mark } from '../../log/recordings/recording-schema.ts'
import type { Summary } from '../../log/schema/types.ts'
import { temperatureInUnit } from '../../physics/units.ts'
import type { PlotColour, PlotData, PlotSeries, PlotSpan } from '../../ui/plots/plot-types.ts'
import { temperatureUnit, UNIT_SYMBOLS } from '../../ui/temperature.ts'

/** Points that are drawn at most; more are averaged. */
const MOST_POINTS = 3000
/** Longer recordings are shown in minutes. */
const MINUTES_FROM = 1200

/** Seconds to the unit of the axis. */
export const timeScale = (durationSeconds: number) =>
  durationSeconds > MINUTES_FROM
    ? ({ label: 'Time, min', per: 60 } as const)
    : ({ label: 'Time, s', per: 1 } as const)

interface Drawn {
  readonly x: number[]
  readonly y: (number | null)[]
  readonly low: number[]
  readonly high: number[]
}

/** Means of so many readings each; a gap stays a gap. Band: twice what shifts the whole curve. */
export function drawn(
  { seconds, temperatureK, commonK }: HeatCurve,
  { per, fromSeconds = 0 }: { per: number; fromSeconds?: number },
): Drawn {
  const unit = temperatureUnit.value
  const shown = (kelvin: number) => temperatureInUnit(kelvin, unit)
  const length = Math.max(1, Math.ceil(seconds.length / MOST_POINTS))
  const out: Drawn = { x: [], y: [], low: [], high: [] }
  for (let i = 0; i < seconds.length; i += length) {
    let [n, time, sum, common] = [0, 0, 0, 0]
    for (let k = i; k < Math.min(i + length, seconds.length); k++) {
      if (!Number.isFinite(temperatureK[k]!)) continue
      n++
      time += seconds[k]!
      sum += temperatureK[k]!
      common += commonK[k]! || 0
    }
    const at = n > 0 ? time / n : seconds[i]!
    out.x.push((at - fromSeconds) / per)
    const mean = n > 0 ? sum / n : Number.NaN
    out.y.push(n > 0 ? shown(mean) : null)
    out.low.push(n > 0 ? shown(mean - (2 * common) / n) : Number.NaN)
    out.high.push(n > 0 ? shown(mean + (2 * common) / n) : Number.NaN)
  }
  return out
}

export interface RecordingPlot {
  readonly curve: HeatCurve
  readonly title: string
  readonly durationSeconds: number
  readonly marks: readonly Mark[]
  readonly plateaus: readonly Plateau[]
  /** Where something was wrong, in seconds. */
  readonly troubles: readonly PlotSpan[]
  /** Readings of the log taken meanwhile, with the recording's beginning, ms since 1970. */
  readonly readings: readonly Summary[]
  readonly startedMs: number
  /** With the band of what shifts the whole curve; without, the curve fills the plot. */
  readonly band: boolean
}

/** The curve alone fills at least this, K: noise must not look like a course. */
const LEAST_HEIGHT_K = 20

export function recordingPlotData(of: RecordingPlot): PlotData {
  const { curve, durationSeconds, marks, plateaus, readings, startedMs } = of
  const { label, per } = timeScale(durationSeconds)
  const unit = temperatureUnit.value
  const { x, y, low, high } = drawn(curve, { per })
  const series: PlotSeries[] = [
    {
      label: of.band ? 'Temperature, ± of the whole curve' : 'Temperature',
      kind: 'line',
      x,
      y,
      ...(of.band ? { band: { low, high } } : {}),
    },
  ]
  const points = readings.filter(({ temperatureK }) => temperatureK !== null)
  if (points.length > 0) {
    const shown = (kelvin: number) => temperatureInUnit(kelvin, unit)
    series.push({
      label: 'Readings in the log',
      kind: 'points',
      colour: 'cool',
      x: points.map(({ takenAtMs }) => (takenAtMs - startedMs) / 1000 / per),
      y: points.map(({ temperatureK }) => shown(temperatureK!)),
      band: {
        low: points.map(({ interval95K, temperatureK }) =>
          shown(interval95K?.[0] ?? temperatureK!),
        ),
        high: points.map(({ interval95K, temperatureK }) =>
          shown(interval95K?.[1] ?? temperatureK!),
        ),
      },
    })
  }
  const spans: PlotSpan[] = [
    ...plateaus.map((p) => ({
      from: p.fromSeconds / per,
      to: p.toSeconds / per,
      label: 'plateau',
    })),
    ...marks.map(
      (m): PlotSpan => ({
        kind: 'mark',
        from: m.seconds / per,
        to: m.seconds / per,
        label: m.note || m.name,
      }),
    ),
    ...of.troubles.map((t) => ({ ...t, from: t.from / per, to: t.to / per })),
  ]
  return {
    title: of.title,
    x: { label, range: [0, Math.max(durationSeconds, 1) / per] },
    y: {
      label: `Temperature, ${UNIT_SYMBOLS[unit]}`,
      format: (value) => value.toFixed(0).replace('-', '−'),
      ...(of.band ? {} : rangeAbout(y)),
    },
    series,
    spans,
  }
}

function rangeAbout(values: readonly (number | null)[]): { range?: readonly [number, number] } {
  let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY]
  for (const value of values) {
    if (value === null) continue
    low = Math.min(low, value)
    high = Math.max(high, value)
  }
  if (!(high >= low)) return {}
  const half = Math.max(0.55 * (high - low), LEAST_HEIGHT_K / 2)
  return { range: [(low + high) / 2 - half, (low + high) / 2 + half] }
}

/** Curves on one plot, each counted from its own moment. */
export interface OverlaidCurve {
  readonly name: string
  readonly curve: HeatCurve
  readonly fromSeconds: number
}

const COLOURS: readonly PlotColour[] = ['ember', 'cool', 'good', 'warn', 'text', 'soft']

export function overlayPlotData(
  curves: readonly OverlaidCurve[],
  band: { readonly fromK: number; readonly toK: number } | null,
): PlotData {
  const ends = curves.map(({ curve, fromSeconds }) => {
    const last = curve.seconds[curve.seconds.length - 1] ?? 0
    return [-fromSeconds, last - fromSeconds] as const
  })
  const [first, last] = [Math.min(...ends.map(([a]) => a)), Math.max(...ends.map(([, b]) => b))]
  const { label, per } = timeScale(last - first)
  const unit = temperatureUnit.value
  const series = curves.map(({ name, curve, fromSeconds }, i): PlotSeries => {
    const { x, y } = drawn(curve, { per, fromSeconds })
    return {
      label: name,
      kind: 'line',
      x,
      y,
      colour: COLOURS[i % COLOURS.length]!,
      dashed: i % 2 === 1,
    }
  })
  if (band) {
    const shown = [band.fromK, band.toK].map((kelvin) => temperatureInUnit(kelvin, unit))
    const [low, high] = shown as [number, number]
    const middle = (low + high) / 2
    series.push({
      label: 'Target band',
      kind: 'line',
      colour: 'soft',
      x: [first / per, last / per],
      y: [middle, middle],
      band: { low: [low, low], high: [high, high] },
    })
  }
  return {
    title: 'Recordings, each from its own moment',
    x: { label, range: [first / per, Math.max(last, first + 1) / per] },
    y: {
      label: `Temperature, ${UNIT_SYMBOLS[unit]}`,
      format: (value) => value.toFixed(0).replace('-', '−'),
    },
    series,
  }
}
