import { type FixedPointId, KNOWN_HEATS } from '../../physics/fixed-points.ts'

/** The surest and cheapest one, where no place is better than another. */
const FIRST: FixedPointId = 'sodium-chloride'

/** The salt or metal that melts nearest to a temperature, K. */
export function nearestMelt(nearK: number | null): FixedPointId {
  if (nearK === null) return FIRST
  const away = ({ points }: (typeof KNOWN_HEATS)[number]) => {
    const all =
      points.by === 'nothing'
        ? [points.point]
        : points.by === 'atmosphere'
          ? Object.values(points.points)
          : []
    return Math.min(...all.map(({ temperatureK }) => Math.abs(temperatureK - nearK)))
  }
  return KNOWN_HEATS.reduce((best, heat) => (away(heat) < away(best) ? heat : best)).id
}
