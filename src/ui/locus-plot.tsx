import { useMemo } from 'preact/hooks'
import { locusInKelvin } from '../estimate/locus-in-kelvin.ts'
import type { LocusView } from '../estimate/types.ts'
import { differenceInUnit, type TemperatureUnit, temperatureInUnit } from '../physics/units.ts'
import { Plot } from './plots/plot.tsx'
import type { PlotData, PlotSeries } from './plots/plot-types.ts'
import { temperatureUnit, UNIT_SYMBOLS } from './temperature.ts'

/** Work with glowing metal; further right only where a lamp is among the references. */
const FROM_K = 950
const TO_K = 1600
/** First view upwards: the widest band of the range of work, within these. */
const LEAST_HALF_K = 60
const LARGEST_HALF_K = 300

/**
 * How far this camera may read off over temperature: the band of any camera, this one's after its
 * known heats, and the known heats with bars of two standard uncertainties.
 */
export function LocusPlot({ view, tools = true }: { view: LocusView; tools?: boolean }) {
  const unit = temperatureUnit.value
  const data = useMemo(() => locusPlotData(view, unit), [view, unit])
  return <Plot data={data} height={240} fileName="camera-locus" tools={tools} />
}

export function locusPlotData(view: LocusView, unit: TemperatureUnit): PlotData {
  const { prior, posterior, references } = locusInKelvin(view)
  const temperatures = (kelvin: readonly number[]) =>
    kelvin.map((value) => temperatureInUnit(value, unit))
  const differences = (kelvin: readonly number[]) =>
    kelvin.map((value) => differenceInUnit(value, unit))
  const band = (of: typeof prior) => ({
    x: temperatures(of.temperatureK),
    y: differences(of.medianK),
    band: { low: differences(of.low95K), high: differences(of.high95K) },
  })
  const points: PlotSeries[] =
    references.length === 0
      ? []
      : [
          {
            label: 'Known heats',
            kind: 'points',
            colour: 'text',
            x: temperatures(references.map((known) => known.temperatureK)),
            y: differences(references.map((known) => known.residualK)),
            band: {
              low: differences(references.map((of) => of.residualK - 2 * of.standardUncertaintyK)),
              high: differences(references.map((of) => of.residualK + 2 * of.standardUncertaintyK)),
            },
          },
        ]
  const hottest = Math.max(0, ...references.map((known) => known.temperatureK))
  const widest = prior.temperatureK.map((t, i) =>
    t < FROM_K || t > TO_K ? 0 : Math.max(prior.high95K[i]!, -prior.low95K[i]!),
  )
  const half = differenceInUnit(
    Math.min(LARGEST_HALF_K, Math.max(LEAST_HALF_K, 1.05 * Math.max(...widest))),
    unit,
  )
  const symbol = UNIT_SYMBOLS[unit]
  return {
    title: 'How far this camera may read off: above zero too hot, below zero too cold',
    x: {
      label: `Temperature, ${symbol}`,
      range: [
        temperatureInUnit(FROM_K, unit),
        temperatureInUnit(hottest > TO_K ? hottest + 100 : TO_K, unit),
      ],
    },
    y: { label: `Reads off by, ${symbol}`, range: [-half, half] },
    series: [
      { label: 'Any camera', kind: 'line', colour: 'cool', dashed: true, ...band(prior) },
      { label: 'This camera', kind: 'line', colour: 'ember', ...band(posterior) },
      ...points,
    ],
  }
}
