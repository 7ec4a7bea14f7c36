/** What fingers, mouse and keys ask of a plot; shares are of the plotting area, 0..1, y upwards. */
export interface GestureTarget {
  readonly zoom: (factor: number, shareX: number, shareY: number) => void
  /** Moves the view by a share of itself. */
  readonly move: (shareX: number, shareY: number) => void
  readonly reset: () => void
  readonly isWhole: () => boolean
}

const KEY_ZOOM = 1.5
const KEY_MOVE = 0.15
const WHEEL_ZOOM = 1.0015

/**
 * Pinch and drag on a plotting area, wheel with Ctrl (which is what a touchpad's pinch sends), double
 * click for the whole.
 *
 * @returns takes the listeners off again
 */
export function listenToPointers(area: HTMLElement, target: GestureTarget): () => void {
  const held = new Map<number, { x: number; y: number }>()
  const stop = new AbortController()
  const on = <K extends keyof HTMLElementEventMap>(
    type: K,
    listener: (event: HTMLElementEventMap[K]) => void,
  ) => area.addEventListener(type, listener, { signal: stop.signal, passive: false })
  const shareOf = (x: number, y: number) => {
    const box = area.getBoundingClientRect()
    return [(x - box.left) / box.width, 1 - (y - box.top) / box.height] as const
  }
  /** While everything is in sight the page scrolls under a finger; nearer, the finger moves the plot. */
  const lendScroll = () => {
    area.style.touchAction = target.isWhole() ? 'pan-y' : 'none'
  }
  lendScroll()

  on('pointerdown', (event) => {
    if (event.button !== 0) return
    held.set(event.pointerId, { x: event.clientX, y: event.clientY })
    if (held.size === 2 || !target.isWhole()) area.setPointerCapture(event.pointerId)
  })
  on('pointermove', (event) => {
    const before = held.get(event.pointerId)
    if (!before) return
    const now = { x: event.clientX, y: event.clientY }
    const box = area.getBoundingClientRect()
    const other = [...held].find(([id]) => id !== event.pointerId)?.[1]
    held.set(event.pointerId, now)
    if (other) {
      const apart = (p: { x: number; y: number }) => Math.hypot(p.x - other.x, p.y - other.y)
      const [x, y] = shareOf((now.x + other.x) / 2, (now.y + other.y) / 2)
      if (apart(before) > 0) target.zoom(apart(now) / apart(before), x, y)
      // Half of the finger's way is that of the middle between the two.
      target.move((before.x - now.x) / 2 / box.width, (now.y - before.y) / 2 / box.height)
    } else if (!target.isWhole()) {
      target.move((before.x - now.x) / box.width, (now.y - before.y) / box.height)
    }
  })
  const release = (event: PointerEvent) => {
    held.delete(event.pointerId)
    lendScroll()
  }
  on('pointerup', release)
  on('pointercancel', release)
  on('pointerleave', (event) => {
    if (!area.hasPointerCapture(event.pointerId)) release(event)
  })
  on('wheel', (event) => {
    if (!event.ctrlKey) return
    event.preventDefault()
    target.zoom(WHEEL_ZOOM ** -event.deltaY, ...shareOf(event.clientX, event.clientY))
    lendScroll()
  })
  on('dblclick', () => {
    target.reset()
    lendScroll()
  })
  return () => stop.abort()
}

/** Arrows, plus, minus and 0 (or Home) anywhere in an element that holds the focus. */
export function listenToKeys(element: HTMLElement, target: GestureTarget): () => void {
  const actions: Record<string, () => void> = {
    '+': () => target.zoom(KEY_ZOOM, 0.5, 0.5),
    '=': () => target.zoom(KEY_ZOOM, 0.5, 0.5),
    '-': () => target.zoom(1 / KEY_ZOOM, 0.5, 0.5),
    '0': target.reset,
    Home: target.reset,
    ArrowLeft: () => target.move(-KEY_MOVE, 0),
    ArrowRight: () => target.move(KEY_MOVE, 0),
    ArrowDown: () => target.move(0, -KEY_MOVE),
    ArrowUp: () => target.move(0, KEY_MOVE),
  }
  const listener = (event: KeyboardEvent) => {
    const action = actions[event.key]
    if (!action || event.ctrlKey || event.metaKey || event.altKey) return
    // With everything in sight the arrows still scroll the page.
    if (event.key.startsWith('Arrow') && target.isWhole()) return
    event.preventDefault()
    action()
  }
  element.addEventListener('keydown', listener)
  return () => element.removeEventListener('keydown', listener)
}
