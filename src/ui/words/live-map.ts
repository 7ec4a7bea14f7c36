/** What the map over the live picture says. */
import { LIVE_CLIPPED, LIVE_DARK } from '../../light/live/live-cells.ts'
import type { LivePlace } from '../../session/live/live-map.ts'
import { showFigure, showPlusMinus } from '../temperature.ts'
import { NOT_READ, plusMinusDifference, standsOut } from './heat-map.ts'

export const LIVE_MAP_WORDS = {
  waiting: 'The map comes with the first figure.',
  whole: 'Whole map',
  places: 'two places alike',
} as const

export const greySentence = (marginPixels: number): string =>
  `Grey: overexposed, or nearer to an edge than ${Math.round(marginPixels)} pixels, as far as blur reaches.`

/** The place that was tapped, itself and against the sight, whose common uncertainty drops out. */
export function livePlaceSentence(place: LivePlace | null): string {
  if (!place) return 'Tap the picture to read a place.'
  if (place.kind === 'not yet') return 'The ± of this place is being worked out …'
  if (place.kind === 'failed')
    return 'The ± of this place could not be worked out. It is tried again; if this stays, reload.'
  if (place.kind === 'not read') {
    if (place.state === LIVE_DARK) return NOT_READ['not glow']
    return place.state === LIVE_CLIPPED ? NOT_READ.clipped : NOT_READ.edge
  }
  const figure = showFigure(place.temperatureK, place.expandedUncertaintyK)
  const { overSightK, overSightUncertaintyK: u } = place
  return standsOut(overSightK, u)
    ? `${figure}; ${plusMinusDifference(overSightK, u)} ${overSightK > 0 ? 'hotter' : 'cooler'} than the sight.`
    : `${figure}; as hot as the sight, ${showPlusMinus(u)}.`
}
