import { LineDrawing } from './line-drawing.tsx'
import css from './notices.module.css'
import type { Notice, Weight } from './words/estimate.ts'

const SIGNS: Record<Weight, string> = {
  stop: 'M8 3h8l5 5v8l-5 5H8l-5-5V8zM8.5 8.5l7 7M15.5 8.5l-7 7',
  warn: 'M12 3.5 21.5 20h-19zM12 10v4.5M12 17v.5',
  note: 'M12 3a9 9 0 1 0 0 18 9 9 0 0 0 0-18zM12 11v5M12 7.5V8',
}
const SPOKEN: Record<Weight, string> = { stop: 'Stop: ', warn: 'Warning: ', note: 'Note: ' }
const ORDER: readonly Weight[] = ['stop', 'warn', 'note']

export function WeightSign({ weight }: { weight: Weight }) {
  return <LineDrawing path={SIGNS[weight]} look="sign" />
}

/** One line, with what to do behind it. */
export function FoldedNotice({ notice: { weight, title, todo } }: { notice: Notice }) {
  return (
    <details class={`${css.folded} ${css[weight]}`}>
      <summary>
        <WeightSign weight={weight} />
        <span>
          <span class="unseen">{SPOKEN[weight]}</span>
          {title}
        </span>
      </summary>
      <p class="inside soft">{todo}</p>
    </details>
  )
}

/** Sentences in order of weight: what was seen, then what to do. */
export function Notices({ notices }: { notices: readonly Notice[] }) {
  if (notices.length === 0) return null
  const sorted = [...notices].sort((a, b) => ORDER.indexOf(a.weight) - ORDER.indexOf(b.weight))
  return (
    <ul class="notices">
      {sorted.map((notice) => (
        <li key={notice.title} class={`notice ${notice.weight}`}>
          <WeightSign weight={notice.weight} />
          <strong>
            <span class="unseen">{SPOKEN[notice.weight]}</span>
            {notice.title}
          </strong>
          <span class="todo">{notice.todo}</span>
        </li>
      ))}
    </ul>
  )
}
