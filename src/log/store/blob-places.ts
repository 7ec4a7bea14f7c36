import type { Json } from '../schema/json-value.ts'

/** Names under which photo files carry the place where they were taken. */
const PLACE_NAMES = /^(gps.*|latitude|longitude|altitude)$/i

/** A JSON value without places: whatever came along with a photo's EXIF is not kept. */
export function withoutPlaces(value: Json): Json {
  if (value === null || typeof value !== 'object') return value
  if (Array.isArray(value)) return value.map(withoutPlaces)
  return Object.fromEntries(
    Object.entries(value)
      .filter(([name]) => !PLACE_NAMES.test(name))
      .map(([name, inner]) => [name, withoutPlaces(inner as Json)]),
  )
}
