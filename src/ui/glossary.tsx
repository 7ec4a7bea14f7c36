import { useEffect, useRef } from 'preact/hooks'
import { askedTerm, GlossaryTerm } from './glossary-term.tsx'
import { GLOSSARY, type TermId } from './words/glossary.ts'

/** The short glossary of the app, at the word that was asked for. */
export function Glossary({ onClose }: { onClose: () => void }) {
  const dialog = useRef<HTMLDialogElement>(null)
  const at = askedTerm.value
  useEffect(() => {
    if (at) dialog.current?.showModal()
  }, [at])
  if (!at) return null
  const others = (Object.keys(GLOSSARY) as TermId[]).filter((id) => id !== at)
  return (
    <dialog ref={dialog} aria-label="Glossary" onClose={onClose}>
      <form method="dialog" class="stack">
        <h2>{GLOSSARY[at].word}</h2>
        <p>{GLOSSARY[at].meaning}</p>
        <p class="small">
          Other words:{' '}
          {others.map((id, i) => (
            <>
              {i > 0 && ', '}
              <GlossaryTerm key={id} of={id}>
                {GLOSSARY[id].word}
              </GlossaryTerm>
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
