import { resample } from '../../estimate/spectrum/interpolate.ts'
import type { SpectrumTemperature } from '../../estimate/spectrum/temperature.ts'
import type {
  InstrumentResponse,
  Recording,
  WavelengthRange,
} from '../../estimate/spectrum/types.ts'
import type { Spectrum } from '../../light/spectrum-import/spectrum.ts'
import type { PlotData, PlotSeries, PlotSpan } from '../../ui/plots/plot-types.ts'
import { PLOT_WORDS, SPECTRUM_PLOTS } from '../../ui/words/spectrum.ts'

const WAVELENGTH = { label: PLOT_WORDS.wavelength } as const
/** Bands are drawn with k = 2, as figures are told. */
const COVERAGE_FACTOR = 2

/** A recording as it came, with its dark; what lies outside the range is shaded. */
export function rawPlot({ spectrum, dark }: Recording, used: WavelengthRange | null): PlotData {
  const series: PlotSeries[] = [
    {
      label: PLOT_WORDS.light,
      kind: 'line',
      x: spectrum.wavelengthNm,
      y: spectrum.signal,
      colour: 'ember',
    },
  ]
  if (dark) {
    series.push({
      label: PLOT_WORDS.dark,
      kind: 'line',
      x: dark.wavelengthNm,
      y: dark.signal,
      colour: 'cool',
    })
  }
  return {
    title: SPECTRUM_PLOTS.raw.title,
    x: WAVELENGTH,
    y: { label: PLOT_WORDS.signal },
    series,
    spans: used ? outside(spectrum.wavelengthNm, used) : [],
  }
}

/** The response, with what is not trusted shaded. */
export function responsePlot(response: InstrumentResponse, used: WavelengthRange): PlotData {
  return {
    title: SPECTRUM_PLOTS.response.title,
    x: WAVELENGTH,
    y: { label: PLOT_WORDS.response, range: [0, 1.05] },
    series: [
      {
        label: PLOT_WORDS.response,
        kind: 'line',
        x: response.wavelengthNm,
        y: response.response,
        colour: 'cool',
      },
    ],
    spans: [
      ...outside(response.wavelengthNm, used),
      ...response.range.excluded.map(({ fromNm, toNm }) => span(fromNm, toNm)),
    ],
  }
}

export function correctedPlot({ corrected }: SpectrumTemperature): PlotData {
  const { wavelengthNm, radiance, sigma, fit } = corrected
  return {
    title: SPECTRUM_PLOTS.corrected.title,
    x: WAVELENGTH,
    y: { label: PLOT_WORDS.radiance },
    series: [
      {
        label: PLOT_WORDS.corrected,
        kind: 'line',
        x: wavelengthNm,
        y: radiance,
        band: bandAround(radiance, sigma),
        colour: 'cool',
      },
      {
        label: PLOT_WORDS.fit,
        kind: 'line',
        x: wavelengthNm,
        y: fit,
        colour: 'ember',
        dashed: true,
      },
    ],
  }
}

/** A spectrum with the instrument taken out, where no fit is to be drawn beside it. */
export function dividedPlot({ spectrum, dark }: Recording, response: InstrumentResponse): PlotData {
  const { fromNm, toNm } = response.range
  const x = spectrum.wavelengthNm.filter((nm) => nm >= fromNm && nm <= toNm)
  const onGrid = (of: Spectrum) => resample(of.wavelengthNm, of.signal, x)
  const light = onGrid(spectrum)
  const zero = dark ? onGrid(dark) : new Float64Array(x.length)
  const divisor = resample(response.wavelengthNm, response.response, x)
  const y = x.map((_, i) => (light[i]! - zero[i]!) / Math.max(divisor[i]!, LEAST_RESPONSE))
  const largest = Math.max(...y)
  return {
    title: SPECTRUM_PLOTS.corrected.title,
    x: WAVELENGTH,
    y: { label: PLOT_WORDS.radiance },
    series: [
      {
        label: PLOT_WORDS.corrected,
        kind: 'line',
        x,
        y: largest > 0 ? y.map((value) => value / largest) : y,
        colour: 'cool',
      },
    ],
  }
}

/** Below this of the largest response a quotient is noise. */
const LEAST_RESPONSE = 1e-3

export function residualsPlot({ corrected, residuals }: SpectrumTemperature): PlotData {
  const ends = [corrected.wavelengthNm[0]!, corrected.wavelengthNm.at(-1)!]
  return {
    title: SPECTRUM_PLOTS.residuals.title,
    x: WAVELENGTH,
    y: { label: PLOT_WORDS.residual },
    series: [
      {
        label: PLOT_WORDS.residual,
        kind: 'points',
        x: corrected.wavelengthNm,
        y: residuals,
        colour: 'cool',
      },
      { label: PLOT_WORDS.fit, kind: 'line', x: ends, y: [0, 0], colour: 'ember', dashed: true },
    ],
  }
}

/** Null where the spectrum has too few samples above its noise. */
export function wienPlot({ wien }: SpectrumTemperature): PlotData | null {
  if (!wien) return null
  const { x, y, sigma, line } = wien
  const ends = [x[0]!, x.at(-1)!]
  return {
    title: SPECTRUM_PLOTS.wien.title,
    x: { label: PLOT_WORDS.inverse },
    y: { label: PLOT_WORDS.wien },
    series: [
      {
        label: PLOT_WORDS.corrected,
        kind: 'line',
        x,
        y,
        band: bandAround(y, sigma),
        colour: 'cool',
      },
      {
        label: PLOT_WORDS.line,
        kind: 'line',
        x: ends,
        y: ends.map((at) => line.intercept + line.slope * at),
        colour: 'ember',
        dashed: true,
      },
    ],
  }
}

function bandAround(y: readonly number[], sigma: readonly number[]) {
  return {
    low: y.map((value, i) => value - COVERAGE_FACTOR * sigma[i]!),
    high: y.map((value, i) => value + COVERAGE_FACTOR * sigma[i]!),
  }
}

function outside(nm: readonly number[], { fromNm, toNm }: WavelengthRange): PlotSpan[] {
  const first = nm[0]!
  const last = nm.at(-1)!
  return [
    ...(fromNm > first ? [span(first, fromNm)] : []),
    ...(toNm < last ? [span(toNm, last)] : []),
  ]
}

const span = (from: number, to: number): PlotSpan => ({ from, to, label: PLOT_WORDS.leftOut })
