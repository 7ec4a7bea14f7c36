import type { PlotColour, PlotSeries } from './plot-types.ts'

export interface SeriesLook {
  readonly colour: string
  /** Lines differ by dash as well as by colour. */
  readonly dash: readonly number[]
}

/** Colours of one ground: the dark screen, or white paper. */
export interface PlotInk {
  readonly ground: string
  readonly text: string
  readonly grid: string
  readonly colours: Record<PlotColour, string>
}

const ORDER: readonly PlotColour[] = ['ember', 'cool', 'good', 'warn', 'text', 'soft']
const DASHES: readonly (readonly number[])[] = [[], [7, 4], [2, 3], [9, 3, 2, 3]]
const DASHED = [7, 4]

/** Contrast with white at least 4.5 each. */
export const PAPER: PlotInk = {
  ground: '#ffffff',
  text: '#222222',
  grid: '#dddddd',
  colours: {
    ember: '#b14a00',
    cool: '#1f5f99',
    good: '#1b6e33',
    warn: '#7a5c00',
    text: '#222222',
    soft: '#6b625b',
  },
}

/** The colours that the style sheet gives at this place. */
export function screenInk(element: Element): PlotInk {
  const style = getComputedStyle(element)
  const token = (name: string) => style.getPropertyValue(name).trim()
  return {
    ground: token('--ground'),
    text: token('--text-soft'),
    grid: token('--raised-more'),
    colours: {
      ember: token('--ember'),
      cool: token('--cool'),
      good: token('--good'),
      warn: token('--warn'),
      text: token('--text'),
      soft: token('--line-strong'),
    },
  }
}

/** How the series at a place of the list looks. */
export function lookOf(series: PlotSeries, place: number, ink: PlotInk): SeriesLook {
  const dash = DASHES[Math.floor(place / ORDER.length) % DASHES.length]!
  return {
    colour: ink.colours[series.colour ?? ORDER[place % ORDER.length]!],
    dash: series.dashed === true ? DASHED : dash,
  }
}
