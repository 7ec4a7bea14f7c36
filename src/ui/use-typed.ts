import { type Signal, useSignal } from '@preact/signals'
import { useEffect } from 'preact/hooks'
import { storeText } from '../session/stored-text.ts'

/**
 * A text that is typed and not yet sent: a reload brings it back; leaving its screen forgets it.
 *
 * @param name of the field, one in the app
 */
export function useTyped(name: string, initial = ''): Signal<string> {
  const text = useSignal(initial)
  useEffect(() => storeText(name, text, initial), [name])
  return text
}
