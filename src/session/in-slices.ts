/**
 * Runs work that rests now and then, letting the screen move at every rest.
 *
 * @returns undefined when it was stopped
 */
export async function inSlices<T>(
  steps: Generator<void, T>,
  signal: AbortSignal,
): Promise<T | undefined> {
  for (;;) {
    if (signal.aborted) return undefined
    const step = steps.next()
    if (step.done) return step.value
    await new Promise((resume) => setTimeout(resume, 0))
  }
}
