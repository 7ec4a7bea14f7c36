import type { Triple } from '../numerics/matrix3.ts'
import { FIRST_GLOW_K } from './glow-visibility.ts'
import { type HeatSwatchSettings, swatchMaker } from './heat-swatch.ts'
import type { ScreenColour } from './screen-gamut.ts'

/** Colours of a glow over temperature, for drawing. */
export interface HeatStrip {
  readonly space: ScreenColour['space']
  /** Codes 0..1. */
  codesAt(temperatureK: number): Triple
}

/**
 * Between the nodes codes run straight: nowhere further than CIEDE2000 0.4 from the swatch itself. The
 * dark-shop view leaves black steeply, so from the first glow the distance of nodes grows, up to 20 K.
 */
const FAR_K = 20
const CLOSE_NODES = 12
const GROWTH_K = FAR_K / 2 / CLOSE_NODES
const KNEE_K = FIRST_GLOW_K + GROWTH_K * CLOSE_NODES ** 2

const temperatureOf = (node: number) => {
  if (node < 0) return FIRST_GLOW_K + node * FAR_K
  return node <= CLOSE_NODES
    ? FIRST_GLOW_K + GROWTH_K * node ** 2
    : KNEE_K + (node - CLOSE_NODES) * FAR_K
}

/** Index of the node at or below a temperature. */
const nodeBelow = (temperatureK: number) => {
  if (temperatureK < FIRST_GLOW_K) return Math.floor((temperatureK - FIRST_GLOW_K) / FAR_K)
  return temperatureK < KNEE_K
    ? Math.floor(Math.sqrt((temperatureK - FIRST_GLOW_K) / GROWTH_K))
    : CLOSE_NODES + Math.floor((temperatureK - KNEE_K) / FAR_K)
}

/**
 * A strip of swatches, each worked out when it is first drawn. One of the nodes is the first visible
 * glow, where the dark-shop view leaves black with a bend.
 */
export function heatStrip(settings: HeatSwatchSettings): HeatStrip {
  const swatch = swatchMaker(settings)
  const nodes = new Map<number, Triple>()
  const node = (i: number): Triple => {
    const known = nodes.get(i)
    if (known) return known
    const { codes } = swatch(temperatureOf(i)).colour
    nodes.set(i, codes)
    return codes
  }
  return {
    space: settings.screen,
    codesAt(temperatureK) {
      const i = nodeBelow(temperatureK)
      const [low, high] = [node(i), node(i + 1)]
      const from = temperatureOf(i)
      const share = (temperatureK - from) / (temperatureOf(i + 1) - from)
      const between = (k: 0 | 1 | 2) => low[k] + share * (high[k] - low[k])
      return [between(0), between(1), between(2)]
    },
  }
}
