import { effect, type ReadonlySignal } from '@preact/signals'

/** The first value that is not null. */
export function firstValue<T>(of: ReadonlySignal<T | null>): Promise<T> {
  return new Promise((resolve) => {
    let stop: (() => void) | undefined
    stop = effect(() => {
      const value = of.value
      if (value === null) return
      resolve(value)
      queueMicrotask(() => stop?.())
    })
  })
}
