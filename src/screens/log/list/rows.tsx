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

const scrollHeight = () => document.documentElement.scrollHeight

/** Only the rows in sight are in the page: a hundred thousand scroll as easily as ten. */
export function ReadingRows({ model }: { model: ListModel }) {
  const list = useRef<HTMLUListElement>(null)
  const range = useSignal({ from: 0, size: 24 })
  const view = model.view.value
  const newest = model.newest.value
  const count = view?.count ?? newest?.length ?? 0
  const chosen = model.selection.chosen.value

  // Back from an entry: to the row where the list was left, whatever has come or gone above the list
  // meanwhile. The newest come first; only with the whole view is the list high enough for any place,
  // and until then the place is not to be overwritten.
  const wanted = useRef(model.place.peek())
  useLayoutEffect(() => {
    const element = list.current
    if (wanted.current === null || !element) return
    const goThere = () => {
      if (wanted.current === null) return
      const y = scrollY + element.getBoundingClientRect().top + wanted.current
      scrollTo(0, y)
      // A list that has become shorter ends before.
      const atEnd = view && element.checkVisibility() && scrollY + innerHeight >= scrollHeight() - 1
      if (atEnd || Math.abs(scrollY - y) < 1) wanted.current = null
    }
    goThere()
    // A page that is not high enough yet, or not on show, is tried again when it has grown.
    const grown = new ResizeObserver(goThere)
    grown.observe(document.body)
    return () => grown.disconnect()
  }, [count, view])
  useEffect(() => {
    const look = () => {
      // The jump to the top of the next page may be heard while this one is being put away.
      if (!list.current?.checkVisibility()) return
      const { top } = list.current.getBoundingClientRect()
      const from = Math.max(0, STEP * Math.floor((-top / ROW_PX - BEYOND) / STEP))
      const size = Math.ceil(innerHeight / ROW_PX) + 2 * BEYOND + STEP
      const now = range.peek()
      if (from !== now.from || size !== now.size) range.value = { from, size }
      if (wanted.current === null) model.place.value = scrollY === 0 ? null : -top
    }
    look()
    // Who scrolls on by hand is not taken back.
    const byHand = () => {
      wanted.current = null
    }
    const listen = { passive: true }
    addEventListener('scroll', look, listen)
    addEventListener('resize', look)
    for (const hand of ['wheel', 'touchmove', 'keydown'] as const)
      addEventListener(hand, byHand, listen)
    return () => {
      removeEventListener('scroll', look)
      removeEventListener('resize', look)
      for (const hand of ['wheel', 'touchmove', 'keydown'] as const)
        removeEventListener(hand, byHand)
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
