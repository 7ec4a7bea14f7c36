/**
 * How fast this machine runs at the moment, so that limits on time grow on a slow or busy one: they
 * are there to end what hangs, not to judge speed.
 */

/** What the work below takes on a quiet machine of two cores. */
const quietMs = 100

/**
 * Time for a fixed piece of work over its time on a quiet machine, 1 or more. Takes 100 ms times the
 * answer: shorter work would fit between two turns of the scheduler and see nothing of other work.
 */
export function slowness() {
  const start = performance.now()
  let sum = 0
  for (let i = 1; i <= 10_000_000; i++) sum += Math.sqrt(i) / (i + Math.log(i))
  // The sum is looked at, so that no compiler leaves the work out.
  const ms = sum > 0 ? performance.now() - start : 0
  return Math.max(1, ms / quietMs)
}

/**
 * A clock that counts in time of a quiet machine: on one that runs at a third of the speed it goes at
 * a third of the pace. Read it every few seconds; each reading measures the speed anew.
 */
export function machineClock() {
  const start = performance.now()
  let last = start
  let quiet = 0
  return {
    read() {
      const slow = slowness()
      const now = performance.now()
      quiet += (now - last) / slow
      last = now
      return { quietMs: quiet, wallMs: now - start, slowness: slow }
    },
  }
}
