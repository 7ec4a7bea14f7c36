/** Some browsers end a worker without a word; a lock that it holds for life is free then. */
/** In the worker: tells the name of its lock. Where there are no locks, nothing is told. */
export function holdForLife(tell: (told: { readonly lock: string }) => void): void {
  const lock = `worker ${Math.random()}`
  const life = globalThis.navigator?.locks?.request(lock, () => {
    tell({ lock })
    return new Promise(() => {})
  })
  life?.catch(() => {})
}

/** In the page. */
export function whenLifeEnds(lock: string, ended: () => void): void {
  navigator.locks.request(lock, ended).catch(() => {})
}
