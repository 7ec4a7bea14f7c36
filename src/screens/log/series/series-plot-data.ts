import type { Summary } from '../../../log/schema/types.ts'
import { type SeriesAxis, type SeriesPoint, seriesPoints } from '../../../log/statistics/series.ts'
import { type TemperatureUnit, temperatureInUnit } from '../../../physics/units.ts'
import type { SeriesSpread } from '../../../session/log/series-model.ts'
import type { PlotData, PlotSeries, Range } from '../../../ui/plots/plot-types.ts'
import { UNIT_SYMBOLS } from '../../../ui/temperature.ts'
import { AXIS_LABELS, POINT_NAMES } from '../../../ui/words/series.ts'

export const AXES: readonly SeriesAxis[] = ['time', 'volts', 'watts']

/** Smallest stretch of an axis worth drawing, in its own unit. */
const LEAST: Record<SeriesAxis, number> = { time: 120_000, volts: 1, watts: 1 }
const MARGIN = 0.05

/** Axes on which at least one reading has a place; time always. */
export function axesOf(summaries: readonly Summary[]): SeriesAxis[] {
  return AXES.filter(
    (axis) => axis === 'time' || summaries.some((summary) => summary[axis] !== null),
  )
}

/**
 * One object's readings as a picture: measured, simulated and made-up ones apart, bars for the 95 %
 * interval, bounds as points without bars. Readings by one camera have their bars split: a band for
 * what moves all of them together, small bars for what does not. Null when none has a place on the axis.
 */
export function seriesPlotData(
  summaries: readonly Summary[],
  axis: SeriesAxis,
  object: string,
  unit: TemperatureUnit,
  spread: SeriesSpread | null = null,
): PlotData | null {
  const points = seriesPoints(summaries, axis)
  if (points.length === 0) return null
  const madeUp = new Set(summaries.filter(({ demo }) => demo).map(({ id }) => id))
  const isMeasured = (point: SeriesPoint) => !point.simulated && !madeUp.has(point.id)
  const measured = points.filter((p) => p.kind === 'temperature' && isMeasured(p))
  const together = measured.filter(({ id }) => spread?.ownK.has(id))
  const groups: [string, PlotSeries['colour'], SeriesPoint[]][] = [
    [POINT_NAMES.measured, 'ember', measured.filter((p) => !together.includes(p))],
    [POINT_NAMES.madeUp, 'cool', points.filter((p) => p.kind === 'temperature' && !isMeasured(p))],
    [POINT_NAMES.bounds, 'soft', points.filter((p) => p.kind === 'upper bound')],
  ]
  const shown = (kelvin: number) => temperatureInUnit(kelvin, unit)
  const joint = spread ? jointSeries(together, spread, shown) : []
  const series = groups
    .filter(([, , group]) => group.length > 0)
    .map(([label, colour, group]): PlotSeries => {
      const bars = group.every(({ lowerK }) => lowerK !== null)
      return {
        label,
        kind: 'points',
        x: group.map(({ x }) => x),
        y: group.map(({ temperatureK }) => shown(temperatureK)),
        ...(colour ? { colour } : {}),
        ...(bars
          ? {
              band: {
                low: group.map(({ lowerK, temperatureK }) => shown(lowerK ?? temperatureK)),
                high: group.map(({ upperK }) => shown(upperK)),
              },
            }
          : {}),
      }
    })
  return {
    title: `${object}: temperature ${axis === 'time' ? 'over time' : `against ${axis}`}`,
    x: {
      label: AXIS_LABELS[axis],
      range: rangeOf(points, axis),
      ...(axis === 'time' ? { scale: 'time' as const } : {}),
    },
    y: {
      label: `Temperature, ${UNIT_SYMBOLS[unit]}`,
      format: (value) => value.toFixed(0).replace('-', '−'),
    },
    series: [...joint, ...series],
  }
}

const COVERAGE = 2

function jointSeries(
  points: readonly SeriesPoint[],
  { commonK, ownK }: SeriesSpread,
  shown: (kelvin: number) => number,
): PlotSeries[] {
  if (points.length === 0) return []
  const x = points.map((point) => point.x)
  const y = points.map(({ temperatureK }) => shown(temperatureK))
  const around = (uncertaintyK: (point: SeriesPoint) => number) => ({
    low: points.map((p) => shown(p.temperatureK - COVERAGE * uncertaintyK(p))),
    high: points.map((p) => shown(p.temperatureK + COVERAGE * uncertaintyK(p))),
  })
  return [
    {
      label: POINT_NAMES.common,
      kind: 'line',
      x,
      y,
      colour: 'soft',
      dashed: true,
      band: around(() => commonK),
    },
    {
      label: POINT_NAMES.own,
      kind: 'points',
      x,
      y,
      colour: 'ember',
      band: around(({ id }) => ownK.get(id) ?? 0),
    },
  ]
}

/** Around the points, so that no bar lies on the frame; points come in order of x. */
function rangeOf(points: readonly SeriesPoint[], axis: SeriesAxis): Range {
  const first = points[0]?.x ?? 0
  const last = points.at(-1)?.x ?? 0
  const room = Math.max(MARGIN * (last - first), LEAST[axis] / 2)
  return [first - room, last + room]
}
