import type { ReadonlySignal } from '@preact/signals'
import { useSignalEffect } from '@preact/signals'
import { surfaceOfObject } from '../session/reading/object-surface.ts'
import { useServices } from '../session/services.ts'

/**
 * The surface of a piece that was read before is known: it is taken where nobody has said one.
 *
 * @param unsaid whether nobody has said a surface
 */
export function useSurfaceOfObject(
  object: ReadonlySignal<string>,
  unsaid: () => boolean,
  take: (found: { readonly materialId: string; readonly cover: string }) => void,
): void {
  const { log } = useServices()
  useSignalEffect(() => {
    const name = object.value.trim()
    if (name === '' || !unsaid()) return
    log
      .then((opened) => surfaceOfObject(opened, name))
      .then(
        (found) => {
          if (found && object.peek().trim() === name && unsaid()) take(found)
        },
        // Without a log it is asked.
        () => undefined,
      )
  })
}
