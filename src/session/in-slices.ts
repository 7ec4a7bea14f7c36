/**
 * Runs work that pauses now and then, letting the screen update at every pause.
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
