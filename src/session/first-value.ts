import { computed, effect, type ReadonlySignal } from '@preact/signals'

/** The first value that is not null; waits for ever where none comes: see {@link firstValueUnless}. */
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

/** The same; null as soon as none can come any more. */
export async function firstValueUnless<T>(
  of: ReadonlySignal<T | null>,
  failed: ReadonlySignal<boolean>,
): Promise<T | null> {
  const settled = computed(() => (of.value !== null || failed.value ? { value: of.value } : null))
  return (await firstValue(settled)).value
}
