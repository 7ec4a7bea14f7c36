import type { ReadingModel } from '../../session/reading/reading-model.ts'
import { WAYS } from '../../ui/words/ways.ts'
import style from './result.module.css'

/** From a reading to everything else; it goes along. */
export function MoreWays({ eye }: { model: ReadingModel; eye: boolean }) {
  return (
    <nav class={style.more} aria-label="Other ways">
      <a class="button" href="/chart">
        {eye ? 'Second estimate: by eye' : 'Chart'}
      </a>
      {WAYS.map(({ id, name }) => (
        <a key={id} class="button" href={`/reading/${id}`}>
          {name}
        </a>
      ))}
    </nav>
  )
}
