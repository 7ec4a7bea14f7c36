import type { ComponentChildren, ComponentType } from 'preact'
import { useEffect, useState } from 'preact/hooks'
import { Trouble } from './trouble.tsx'
import { NOT_LOADED } from './words/not-loaded.ts'

type Load<P> = () => Promise<ComponentType<P>>

/**
 * A part whose code comes when it is first shown; from then on it is there at once. Its file may be
 * gone: after an update in another tab the server has only the new ones, and they belong to a new page.
 *
 * @param meanwhile what stands in its place until then
 */
export function later<P extends object>(
  load: Load<P>,
  meanwhile: ComponentChildren = null,
): ComponentType<P> {
  return loaded(load, meanwhile, (again, props) =>
    meanwhile ? (
      <Trouble notice={NOT_LOADED} again={again} />
    ) : (
      <FootTrouble again={again} onClose={(props as { onClose?: () => void }).onClose} />
    ),
  )
}

/** The same for a whole screen. */
export function laterScreen<P extends object>(load: Load<P>): ComponentType<P> {
  return loaded(load, <main class="screen" aria-busy="true" />, (again) => (
    <main class="screen">
      <Trouble notice={NOT_LOADED} again={again} />
    </main>
  ))
}

function loaded<P extends object>(
  load: Load<P>,
  meanwhile: ComponentChildren,
  trouble: (again: () => void, props: P) => ComponentChildren,
): ComponentType<P> {
  let part: ComponentType<P> | null = null
  return function Later(props: P) {
    const [error, setError] = useState<unknown>(null)
    const [tries, setTries] = useState(0)
    useEffect(() => {
      if (part) return
      let wanted = true
      load().then(
        (came) => {
          part = came
          if (wanted) setTries(-1)
        },
        (reason: unknown) => wanted && setError(reason),
      )
      return () => {
        wanted = false
      }
    }, [tries])
    const Part = part
    if (Part) return <Part {...props} />
    if (error === null) return meanwhile
    const again = afresh(error, () => {
      setError(null)
      setTries(tries + 1)
    })
    return trouble(again, props)
  }
}

/** Another try to load what failed with that error: a style sheet is asked for once in a page's life. */
export const afresh = (error: unknown, again: () => void): (() => void) =>
  /preload CSS/.test(String(error)) ? () => location.reload() : again

/** In place of a dialog or a dock: where it is seen, however long the screen is. */
function FootTrouble({ again, onClose }: { again: () => void; onClose: (() => void) | undefined }) {
  const [seen, setSeen] = useState(false)
  if (seen) return null
  return (
    <div class="word" role="alert">
      <span>{NOT_LOADED.title}.</span>
      <button type="button" onClick={again}>
        Try again
      </button>
      <button type="button" onClick={() => location.reload()}>
        Reload
      </button>
      <button
        type="button"
        aria-label="Close this message"
        onClick={() => {
          setSeen(true)
          onClose?.()
        }}
      >
        ✕
      </button>
    </div>
  )
}
