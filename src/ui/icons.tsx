import { LineDrawing } from './line-drawing.tsx'
import type { Place } from './router.ts'

/** Line drawings on a 24 unit grid, one path each. */
const PATHS: Record<Place, string> = {
  reading: 'M3 17h18M6 17l2-6h8l2 6M12 7V3M7.5 8 5.5 5.5M16.5 8l2-2.5M6 21h12',
  chart: 'M8 3h8v18H8zM8 9h8M8 15h8M4 6v12M20 6v12',
  log: 'M6 3h11a2 2 0 0 1 2 2v16H7a2 2 0 0 1-2-2V4a1 1 0 0 1 1-1zM9 8h6M9 12h6M9 16h3',
  kit: 'M3 9h18v11H3zM9 9V6a1 1 0 0 1 1-1h4a1 1 0 0 1 1 1v3M3 14h7M14 14h7M10 12.5h4v3h-4z',
  safety: 'M12 3 4 6v6c0 4.5 3.4 7.6 8 9 4.6-1.4 8-4.5 8-9V6zM12 8v5M12 16v.5',
}

export function PlaceIcon({ place }: { place: Place }) {
  return <LineDrawing path={PATHS[place]} />
}
