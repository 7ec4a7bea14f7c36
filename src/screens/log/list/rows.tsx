import { useSignal } from '@preact/signals'
import { useEffect, useLayoutEffect, useRef } from 'preact/hooks'
import type { Summary } from '../../../log/schema/types.ts'
import type { ListModel } from '../../../session/log/list-model.ts'
import css from '../log.module.css'
import { LogRow } from './log-row.tsx'

/** Height of a row, px, the same in log.module.css. */
const ROW_PX = 76
/** Rows kept ready beyond either edge, and how many rows of scrolling change nothing. */
const BEYOND = 4
const STEP = 2

/** Only the rows in sight are in the page: a hundred thousand scroll as easily as ten. */
export function ReadingRows({ model }: { model: ListModel }) {
  const list = useRef<HTMLUListElement>(null)
  const range = useSignal({ from: 0, size: 24 })
  const view = model.view.value
  const newest = model.newest.value
  const count = view?.count ?? newest?.length ?? 0
  const chosen = model.selection.chosen.value

  // Back from an entry: to where the list was left. The newest come first; only with the whole view is
  // the list high enough for any place, and until then the place is not to be overwritten.
  const wantedY = useRef(model.scrollY.peek())
  useLayoutEffect(() => {
    if (wantedY.current === 0) return
    scrollTo(0, wantedY.current)
    if (view || scrollY >= wantedY.current) wantedY.current = 0
  }, [count, view])
  useEffect(() => {
    const look = () => {
      // The jump to the top of the next page may be heard while this one is being put away.
      if (!list.current?.isConnected) return
      const { top } = list.current.getBoundingClientRect()
      const from = Math.max(0, STEP * Math.floor((-top / ROW_PX - BEYOND) / STEP))
      const size = Math.ceil(innerHeight / ROW_PX) + 2 * BEYOND + STEP
      const now = range.peek()
      if (from !== now.from || size !== now.size) range.value = { from, size }
      if (wantedY.current === 0) model.scrollY.value = scrollY
    }
    look()
    addEventListener('scroll', look, { passive: true })
    addEventListener('resize', look)
    return () => {
      removeEventListener('scroll', look)
      removeEventListener('resize', look)
    }
  }, [range, model])

  const rows: { at: number; summary: Summary }[] = []
  const { from, size } = range.value
  for (let at = from; at < Math.min(count, from + size); at++) {
    const summary = view ? view.at(at) : newest?.[at]
    if (summary) rows.push({ at, summary })
  }
  return (
    <ul ref={list} class={css.logRows} style={{ height: `${count * ROW_PX}px` }}>
      {rows.map(({ at, summary }) => (
        <li
          // A row that leaves at one edge is used again for one that comes in at the other.
          key={at % size}
          aria-posinset={at + 1}
          aria-setsize={count}
          style={{ transform: `translateY(${at * ROW_PX}px)` }}
        >
          <LogRow
            summary={summary}
            chosen={chosen ? chosen.has(summary.id) : null}
            onToggle={model.selection.toggle}
          />
        </li>
      ))}
    </ul>
  )
}
