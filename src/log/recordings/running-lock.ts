/**
 * Which recordings are being written, told by Web Locks: a lock ends with the tab that holds it,
 * however it ends.
 */
const PREFIX = 'recording '

const locks = (): LockManager | undefined =>
  typeof navigator === 'undefined' ? undefined : navigator.locks

/** Where there are no locks: what this page itself writes. */
const here = new Set<string>()

/** Says that a recording is being written; returns the way to say that it has ended. */
export async function holdRunning(id: string): Promise<() => void> {
  here.add(id)
  const manager = locks()
  if (!manager) return () => here.delete(id)
  let free = () => {}
  const until = new Promise<void>((resolve) => {
    free = resolve
  })
  await new Promise<void>((held) => {
    void manager
      .request(PREFIX + id, () => {
        held()
        return until
      })
      .catch(() => held())
  })
  return () => {
    here.delete(id)
    free()
  }
}

/** Ids of the recordings that some tab is writing. */
export async function runningElsewhere(): Promise<ReadonlySet<string>> {
  const held = (await locks()?.query())?.held ?? []
  const names = held.flatMap(({ name }) =>
    name?.startsWith(PREFIX) ? [name.slice(PREFIX.length)] : [],
  )
  return new Set([...names, ...here])
}

/** For tests: what a page forgets when it ends. */
export const forgetRunning = (): void => here.clear()
