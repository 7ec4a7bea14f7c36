import { CAUTIONS } from '../../ui/words/safety.ts'
import css from './safety.module.css'

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
