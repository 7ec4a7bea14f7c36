let before: Promise<unknown> = Promise.resolve()
/** Longer than this no part holds up the next one. */
const PATIENCE_MS = 2000

/**
 * Loads a part of the app after those that were asked for earlier: WebKitGTK 2.50 now and then never
 * answers an import whose files overlap with one that is still under way.
 */
export function part<T>(load: () => Promise<T>): Promise<T> {
  const mine = before.then(load)
  const patience = new Promise((resolve) => setTimeout(resolve, PATIENCE_MS))
  before = Promise.race([mine, patience]).catch(() => undefined)
  return mine
}
