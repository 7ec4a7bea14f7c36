import type { ComponentChildren, ComponentType } from 'preact'
import { useEffect, useState } from 'preact/hooks'

/**
 * A part whose code comes when it is first shown; from then on it is there at once.
 *
 * @param meanwhile what stands in its place until then
 */
export function later<P extends object>(
  load: () => Promise<ComponentType<P>>,
  meanwhile: ComponentChildren = null,
): ComponentType<P> {
  let part: ComponentType<P> | null = null
  return function Later(props: P) {
    const [, show] = useState(false)
    useEffect(() => {
      if (part) return
      let wanted = true
      load().then((loaded) => {
        part = loaded
        if (wanted) show(true)
      })
      return () => {
        wanted = false
      }
    }, [])
    const Part = part
    return Part ? <Part {...props} /> : meanwhile
  }
}
