import type { ComponentChildren } from 'preact'
import { SAFETY_SOURCES, type Statement } from '../../ui/words/safety-statements.data.ts'
import css from './safety.module.css'

/** Checks in the order in which they are done: a large target to tick, the reason on tap. */
export function CheckList({
  checks,
  ticked,
  onTick,
  children,
}: {
  checks: readonly Statement[]
  ticked: (id: string) => boolean
  onTick: (id: string) => void
  children?: ComponentChildren
}) {
  return (
    <ol class={css.checks}>
      {checks.map((check) => (
        <li key={check.id}>
          <label class={css.check}>
            <input type="checkbox" checked={ticked(check.id)} onChange={() => onTick(check.id)} />
            <span>{check.text}</span>
          </label>
          <details class={css.why}>
            <summary aria-label={`Why: ${check.text}`}>Why</summary>
            <p class="small">
              {check.why} <span class="soft">{SAFETY_SOURCES[check.source]}.</span>
            </p>
          </details>
        </li>
      ))}
      {children}
    </ol>
  )
}
