/** Colours of the house that stand out from the dark ground, and from each other in print. */
export type PlotColour = 'ember' | 'cool' | 'good' | 'warn' | 'text' | 'soft'

/** Plain data: all arrays of one length. A y of null leaves a gap. */
export interface PlotSeries {
  readonly label: string
  readonly kind: 'line' | 'points'
  readonly x: readonly number[]
  readonly y: readonly (number | null)[]
  /** Around a line a shaded band, at points upright bars. */
  readonly band?: { readonly low: readonly number[]; readonly high: readonly number[] }
  /** By place in the list when not given. */
  readonly colour?: PlotColour
  readonly dashed?: boolean
}

export interface PlotAxis {
  /** With its unit: "Wavelength, nm". */
  readonly label: string
  /** Time is in ms since 1970, shown by this device's clock. */
  readonly scale?: 'linear' | 'log' | 'time'
  /** First view; from the data when not given. */
  readonly range?: Range
  /** How values are written; round figures when not given. */
  readonly format?: (value: number) => string
}

/** A stretch of the x axis to be shaded: left out, or trusted. */
export interface PlotSpan {
  /** A mark is a moment, drawn as a line with its name; a trouble is shaded as a warning, with its. */
  readonly kind?: 'mark' | 'trouble'
  readonly from: number
  readonly to: number
  readonly label: string
}

export interface PlotData {
  /** What the picture shows, in a sentence: for those who hear it, and above the exported one. */
  readonly title: string
  readonly x: PlotAxis
  readonly y: PlotAxis
  readonly series: readonly PlotSeries[]
  readonly spans?: readonly PlotSpan[]
}

export type Range = readonly [min: number, max: number]

export interface Tick {
  readonly value: number
  /** Empty for small divisions of a logarithmic scale. */
  readonly text: string
}

/** What part of the plane is in sight. */
export interface PlotView {
  readonly x: Range
  readonly y: Range
}
