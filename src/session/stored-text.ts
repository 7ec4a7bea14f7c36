import { effect, type Signal } from '@preact/signals'

/** What is being typed, kept over a reload of this tab: an update, a phone that ran out of memory. */
const keyOf = (name: string) => `glowbook.typing.${name}`

/**
 * Stores a text as it is typed, until this tab is closed: what was typed before comes back into a field
 * that nobody has changed.
 *
 * @param unchanged what stands in the field before anything is typed
 * @returns the way to forget it
 */
export function storeText(name: string, text: Signal<string>, unchanged = ''): () => void {
  const before = typedBefore(name)
  if (before !== '' && text.peek() === unchanged) text.value = before
  const stop = effect(() => storeTyped(name, text.value === unchanged ? '' : text.value))
  return () => {
    stop()
    storeTyped(name, '')
  }
}

/** @param text empty: forgets it */
export function storeTyped(name: string, text: string): void {
  try {
    if (text === '') sessionStorage.removeItem(keyOf(name))
    else sessionStorage.setItem(keyOf(name), text)
  } catch {
    // Refused or full: only a reload would lose it.
  }
}

/** Empty where nothing was typed. */
export function typedBefore(name: string): string {
  try {
    return sessionStorage.getItem(keyOf(name)) ?? ''
  } catch {
    return ''
  }
}
