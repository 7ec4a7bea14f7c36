import { CAUTIONS } from '../../ui/words/safety.ts'
import css from './safety.module.css'

/** The cautions, open, in the order in which things hurt. */
export function Cautions() {
  return (
    <ol class={css.cautions}>
      {CAUTIONS.map((caution) => (
        <li key={caution.id} class="card stack">
          <h2>{caution.title}</h2>
          <ul class="stack">
            {caution.lines.map((line) => (
              <li key={line}>{line}</li>
            ))}
          </ul>
          {caution.source && <p class="small soft">{caution.source}</p>}
        </li>
      ))}
    </ol>
  )
}

/** One line each for the first visit; a tap opens the rest. */
export function CautionLines() {
  return (
    <ol class={css.lines}>
      {CAUTIONS.map(({ id, short, title, lines, source }) => (
        <li key={id}>
          <details>
            <summary>
              <span>{short}</span>
              <span class="small soft">more</span>
            </summary>
            <div class="inside">
              <strong>{title}</strong>
              {lines.map((line) => (
                <p key={line}>{line}</p>
              ))}
              {source && <p class="small soft">{source}</p>}
            </div>
          </details>
        </li>
      ))}
    </ol>
  )
}

export function SafetyScreen() {
  return (
    <main class="screen">
      <header>
        <h1>Safety</h1>
      </header>
      <Cautions />
    </main>
  )
}
