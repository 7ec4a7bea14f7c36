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
