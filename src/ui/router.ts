import { signal } from '@preact/signals'

/** The places of the app, in the order of the job. */
export const PLACES = ['reading', 'chart', 'log', 'kit', 'safety'] as const
export type Place = (typeof PLACES)[number]

export interface Address {
  readonly place: Place
  /** What stands behind the place: the id of a log entry, the part of the kit. */
  readonly rest: string
}

const LEAVES_BY_BROWSER = 1

/** `/log/42` -> { place: 'log', rest: '42' }; anything unknown leads to the reading. */
export function addressFromPath(path: string): Address {
  const [first = '', ...rest] = path.split('/').filter(Boolean)
  const place = PLACES.find((name) => name === first) ?? 'reading'
  return { place, rest: decoded(rest.join('/')) }
}

/** An address that somebody typed or cut short is taken as it stands. */
function decoded(text: string): string {
  try {
    return decodeURIComponent(text)
  } catch {
    return text
  }
}

/** Half of a surrogate pair, as a cut-off name may hold, has no place in an address: U+FFFD. */
const encoded = (text: string) => encodeURIComponent(text.replace(/\p{Surrogate}/gu, '\ufffd'))

export function pathFromAddress({ place, rest }: Address): string {
  if (place === 'reading' && !rest) return '/'
  return rest ? `/${place}/${encoded(rest)}` : `/${place}`
}

export const address = signal<Address>({ place: 'reading', rest: '' })

/** Goes to a place without reloading; the browser's back button leads back. */
export function go(place: Place, rest = ''): void {
  const next = { place, rest }
  history.pushState(null, '', pathFromAddress(next))
  address.value = next
  scrollTo(0, 0)
}

/** Binds the address to the browser's history; returns the way to let go of it. */
export function startRouter(): () => void {
  const read = () => {
    address.value = addressFromPath(location.pathname)
  }
  const onClick = (event: MouseEvent) => {
    const anchor = (event.target as Element).closest?.('a[href^="/"]')
    const modified = event.metaKey || event.ctrlKey || event.shiftKey || event.altKey
    if (!anchor || modified || event.button >= LEAVES_BY_BROWSER) return
    event.preventDefault()
    const { place, rest } = addressFromPath(anchor.getAttribute('href') ?? '/')
    go(place, rest)
  }
  read()
  addEventListener('popstate', read)
  document.addEventListener('click', onClick)
  return () => {
    removeEventListener('popstate', read)
    document.removeEventListener('click', onClick)
  }
}
