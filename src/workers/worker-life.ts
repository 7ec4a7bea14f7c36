/** Some browsers end a worker without a word; a lock that it holds for life is free then. */

/** In the worker: the name of its lock, once it is held; undefined where there are no locks. */
export function lockForLife(): Promise<string> | undefined {
  const { locks } = globalThis.navigator ?? {}
  if (!locks) return undefined
  const name = `worker ${Math.random()}`
  return new Promise((held) => {
    const life = locks.request(name, () => {
      held(name)
      return new Promise(() => {})
    })
    life.catch(() => {})
  })
}

/** In the page. */
export function whenLifeEnds(lock: string, ended: () => void): void {
  navigator.locks.request(lock, ended).catch(() => {})
}
