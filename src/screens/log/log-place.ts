import { pathFromAddress } from '../../ui/router.ts'

/** What of the log is shown, by the address behind `/log/`. */
export type LogPlace =
  | { readonly kind: 'list' }
  | { readonly kind: 'entry'; readonly id: string }
  | { readonly kind: 'by hand' }
  | { readonly kind: 'pair'; readonly ids: readonly [string, string] }
  /** One object's readings; an empty name is still to be chosen. */
  | { readonly kind: 'series'; readonly object: string }
  | { readonly kind: 'keeping' }

/** `series/Kiln shelf` -> { kind: 'series', object: 'Kiln shelf' }; what has no other name is an id. */
export function logPlace(rest: string): LogPlace {
  if (rest === '') return { kind: 'list' }
  const [first = '', ...others] = rest.split('/')
  if (first === 'by-hand' && others.length === 0) return { kind: 'by hand' }
  if (first === 'keeping' && others.length === 0) return { kind: 'keeping' }
  // The name of an object may hold strokes itself.
  if (first === 'series') return { kind: 'series', object: others.join('/') }
  const [a, b] = others
  if (first === 'pair' && a && b) return { kind: 'pair', ids: [a, b] }
  return { kind: 'entry', id: rest }
}

/** The inverse of {@link logPlace}. */
export function restOfPlace(place: LogPlace): string {
  switch (place.kind) {
    case 'list':
      return ''
    case 'entry':
      return place.id
    case 'by hand':
      return 'by-hand'
    case 'pair':
      return `pair/${place.ids.join('/')}`
    case 'series':
      return place.object ? `series/${place.object}` : 'series'
    case 'keeping':
      return 'keeping'
  }
}

/** For links. */
export function hrefOfPlace(place: LogPlace): string {
  return pathFromAddress({ place: 'log', rest: restOfPlace(place) })
}
