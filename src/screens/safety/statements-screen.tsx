import { HURTING_HAZARDS, KNOWN_HEAT_HAZARD_WORDS } from '../../ui/words/known-heats.ts'
import { CAUTIONS } from '../../ui/words/safety.ts'
import { JOB_NAMES } from '../../ui/words/safety-names.ts'
import {
  CLOSING_CHECKS,
  CONTEXT_CAUTIONS,
  FIRST_AID,
  JOB_CHECKS,
  SAFETY_SOURCES,
  type Statement,
  SURFACE_HAZARD_WORDS,
} from '../../ui/words/safety-statements.data.ts'
import { USUAL_CAUTIONS } from '../../ui/words/safety-work.ts'

const GROUPS: readonly (readonly [title: string, of: readonly Statement[]])[] = [
  ...Object.entries(JOB_CHECKS).map(
    ([kind, of]) => [JOB_NAMES[kind as keyof typeof JOB_NAMES], of] as const,
  ),
  ['End of work', CLOSING_CHECKS],
  ['Beside a surface', Object.values(SURFACE_HAZARD_WORDS)],
  ['Beside the work', Object.values(CONTEXT_CAUTIONS)],
  ['First aid', FIRST_AID],
]

/** Every statement about safety with its source, to be read through, and printed. */
export function StatementsScreen() {
  return (
    <main class="screen">
      <header>
        <a class="button no-print" href="/safety">
          Back
        </a>
        <h1>Every statement</h1>
      </header>
      <p class="small soft">{USUAL_CAUTIONS} For review by a professional.</p>
      <button type="button" class="no-print" onClick={() => print()}>
        Print
      </button>
      {GROUPS.map(([title, of]) => (
        <section key={title} class="stack">
          <h2>{title}</h2>
          <ol class="stack">
            {of.map(({ id, text, why, source }) => (
              <li key={id}>
                {text} <span class="small">{why}</span>{' '}
                <span class="small soft">{SAFETY_SOURCES[source]}.</span>
              </li>
            ))}
          </ol>
        </section>
      ))}
      <section class="stack">
        <h2>Beside a known heat</h2>
        <ul>
          {[...HURTING_HAZARDS].map((hazard) => (
            <li key={hazard}>
              {KNOWN_HEAT_HAZARD_WORDS[hazard]}{' '}
              <span class="small soft">{SAFETY_SOURCES.practice}.</span>
            </li>
          ))}
        </ul>
      </section>
      <section class="stack">
        <h2>Cautions</h2>
        {CAUTIONS.map(({ id, title, lines, source }) => (
          <section key={id} class="stack">
            <h3>{title}</h3>
            <ul>
              {lines.map((line) => (
                <li key={line}>{line}</li>
              ))}
            </ul>
            {source && <p class="small soft">{source}</p>}
          </section>
        ))}
      </section>
    </main>
  )
}
