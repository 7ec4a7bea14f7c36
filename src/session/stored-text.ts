import { effect, type Signal } from '@preact/signals'

/**
 * Stores a text as it is typed, until this tab is closed: what was there before comes back into
 * an empty one.
 *
 * @returns the way to forget it
 */
export function storeText(name: string, text: Signal<string>): () => void {
  const key = `glowbook.typing.${name}`
  if (text.peek() === '') text.value = stored(key)
  const stop = effect(() => store(key, text.value))
  return () => {
    stop()
    store(key, '')
  }
}

function store(key: string, text: string): void {
  try {
    if (text === '') sessionStorage.removeItem(key)
    else sessionStorage.setItem(key, text)
  } catch {
    // Refused or full: only a reload would lose it.
  }
}

function stored(key: string): string {
  try {
    return sessionStorage.getItem(key) ?? ''
  } catch {
    return ''
  }
}
