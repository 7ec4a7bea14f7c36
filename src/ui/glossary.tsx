import { signal } from '@preact/signals'
import { useEffect, useRef } from 'preact/hooks'
import style from './glossary.module.css'
import { GLOSSARY, type TermId } from './words/glossary.ts'

const asked = signal<TermId | null>(null)

/** A word of the trade in a sentence: a tap explains it. */
export function GlossaryTerm({
  of,
  children,
}: {
  of: TermId
  children?: preact.ComponentChildren
}) {
  return (
    <a
      class={style.term}
      href={`#${of}`}
      onClick={(event) => {
        event.preventDefault()
        asked.value = of
      }}
    >
      {children ?? GLOSSARY[of].word}
    </a>
  )
}

/** The short glossary of the app, at the word that was asked for. */
export function Glossary() {
  const dialog = useRef<HTMLDialogElement>(null)
  const at = asked.value
  useEffect(() => {
    if (at) dialog.current?.showModal()
  }, [at])
  if (!at) return null
  const others = (Object.keys(GLOSSARY) as TermId[]).filter((id) => id !== at)
  return (
    <dialog
      ref={dialog}
      aria-label="Glossary"
      onClose={() => {
        asked.value = null
      }}
    >
      <form method="dialog" class="stack">
        <h2>{GLOSSARY[at].word}</h2>
        <p>{GLOSSARY[at].meaning}</p>
        <p class="small">
          Other words:{' '}
          {others.map((id, i) => (
            <>
              {i > 0 && ', '}
              <GlossaryTerm key={id} of={id} />
            </>
          ))}
        </p>
        <button type="submit" class="primary">
          Close
        </button>
      </form>
    </dialog>
  )
}
