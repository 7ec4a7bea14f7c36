import type { Place } from '../router.ts'

export const PLACE_NAMES: Record<Place, string> = {
  reading: 'Reading',
  chart: 'Chart',
  log: 'Log',
  kit: 'Kit',
  safety: 'Safety',
}
