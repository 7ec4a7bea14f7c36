import { signal } from '@preact/signals'
import type { ComponentChildren } from 'preact'
import style from './glossary.module.css'
import type { TermId } from './words/glossary.ts'

/** The word that was asked for; null while none is. */
export const askedTerm = signal<TermId | null>(null)

/** A word of the trade in a sentence: a tap explains it. */
export function GlossaryTerm({ of, children }: { of: TermId; children: ComponentChildren }) {
  return (
    <a
      class={style.term}
      href={`#${of}`}
      onClick={(event) => {
        event.preventDefault()
        askedTerm.value = of
      }}
    >
      {children}
    </a>
  )
}
