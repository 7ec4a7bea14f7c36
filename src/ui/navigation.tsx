import { PlaceIcon } from './icons.tsx'
import { address, PLACES, pathFromAddress } from './router.ts'
import { PLACE_NAMES } from './words/places.ts'

/** The five places, always in reach of the thumb. */
export function Navigation() {
  return (
    <nav class="nav" aria-label="Places">
      {PLACES.map((place) => (
        <a
          key={place}
          href={pathFromAddress({ place, rest: '' })}
          aria-current={address.value.place === place ? 'page' : undefined}
        >
          <PlaceIcon place={place} />
          {PLACE_NAMES[place]}
        </a>
      ))}
    </nav>
  )
}
