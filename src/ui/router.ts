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

/** Something opened on top of a screen: a dialog, a panel, the picture that is read. */
interface Layer {
  readonly path: string
  readonly close: () => void
  /** Gone with the screen that showed it. */
  readonly alive: () => boolean
}

let layers: Layer[] = []
const layersHere = () => {
  layers = layers.filter(({ alive }) => alive())
  const path = pathFromAddress(address.peek())
  return layers.filter((layer) => layer.path === path)
}
const depthOf = (state: unknown): number =>
  (state as { readonly depth?: number } | null)?.depth ?? 0
/** Depth of the history entry that is shown. */
let depth = 0

/**
 * Says that something was opened on this screen: the browser's Back closes it before it leads away.
 *
 * @returns to be called when it was closed in another way
 */
export function openLayer(close: () => void, alive: () => boolean = () => true): () => void {
  const layer = { path: pathFromAddress(address.peek()), close, alive }
  layers.push(layer)
  const count = layersHere().length
  // An entry left behind by a layer that was closed by hand serves again.
  if (depthOf(history.state) < count) history.pushState({ depth: count }, '')
  depth = depthOf(history.state)
  return () => {
    layers = layers.filter((one) => one !== layer)
  }
}

/** Goes to a place without reloading; the browser's back button leads back. */
export function go(place: Place, rest = ''): void {
  const next = { place, rest }
  history.pushState(null, '', pathFromAddress(next))
  depth = 0
  address.value = next
  scrollTo(0, 0)
}

/** The browser went to another entry of its history. */
function onHistory(): void {
  const next = addressFromPath(location.pathname)
  const same = pathFromAddress(next) === pathFromAddress(address.peek())
  const wentBack = depthOf(history.state) < depth
  depth = depthOf(history.state)
  if (!same) {
    address.value = next
    return
  }
  const open = layersHere()
  const closing = open.slice(depth).reverse()
  for (const layer of closing) {
    layers = layers.filter((one) => one !== layer)
    layer.close()
  }
  // What this entry stood for was closed by hand: the press is not lost on it.
  if (closing.length === 0 && wentBack) history.back()
}

/** Dialogs and panels that a person opens are layers, on every screen. */
function watchPanels(): () => void {
  const asked = new WeakSet<Element>()
  const release = new WeakMap<Element, () => void>()
  const onClick = (event: Event) => {
    const panel = (event.target as Element).closest?.('summary')?.parentElement
    if (panel) asked.add(panel)
  }
  const onToggle = ({ target }: Event) => {
    const dialog = target instanceof HTMLDialogElement
    if (!dialog && !(target instanceof HTMLDetailsElement)) return
    release.get(target)?.()
    release.delete(target)
    // A panel that stands open from the beginning belongs to its screen.
    if (!target.open || !(dialog || asked.has(target))) return
    const close = () => {
      if (dialog) target.close()
      else target.open = false
    }
    release.set(
      target,
      openLayer(close, () => target.isConnected && target.open),
    )
  }
  // The toggle event comes after the dialog is seen, and Back may be pressed between the two.
  const onBeforeToggle = (event: Event) => {
    if (event.target instanceof HTMLDialogElement) queueMicrotask(() => onToggle(event))
  }
  document.addEventListener('click', onClick, true)
  document.addEventListener('beforetoggle', onBeforeToggle, true)
  document.addEventListener('toggle', onToggle, true)
  return () => {
    document.removeEventListener('click', onClick, true)
    document.removeEventListener('beforetoggle', onBeforeToggle, true)
    document.removeEventListener('toggle', onToggle, true)
  }
}

/** Binds the address to the browser's history; returns the way to let go of it. */
export function startRouter(): () => void {
  const onClick = (event: MouseEvent) => {
    const anchor = (event.target as Element).closest?.('a[href^="/"]')
    const modified = event.metaKey || event.ctrlKey || event.shiftKey || event.altKey
    // A link that opens a page of its own leads to a file, not to a place.
    const file = anchor?.hasAttribute('target')
    if (!anchor || file || modified || event.button >= LEAVES_BY_BROWSER) return
    event.preventDefault()
    const { place, rest } = addressFromPath(anchor.getAttribute('href') ?? '/')
    go(place, rest)
  }
  address.value = addressFromPath(location.pathname)
  depth = depthOf(history.state)
  const stopPanels = watchPanels()
  addEventListener('popstate', onHistory)
  document.addEventListener('click', onClick)
  return () => {
    stopPanels()
    removeEventListener('popstate', onHistory)
    document.removeEventListener('click', onClick)
  }
}
