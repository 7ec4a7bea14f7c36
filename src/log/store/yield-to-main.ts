/** A slice of work after which the screen gets its turn; short of a 50 ms task on a slow phone. */
const SLICE_MS = 8

/** Await the returned function between steps: it gives the screen a turn when a slice is used up. */
export function mainYielder(): () => Promise<void> {
  let began = performance.now()
  return async () => {
    if (performance.now() - began < SLICE_MS) return
    await turn()
    began = performance.now()
  }
}

/** A message is not clamped to 4 ms as nested timers are. */
function turn(): Promise<void> {
  return new Promise((resolve) => {
    const { port1, port2 } = new MessageChannel()
    port1.onmessage = () => {
      port1.close()
      resolve()
    }
    port2.postMessage(null)
  })
}
