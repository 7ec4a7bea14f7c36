import { type Signal, useSignal } from '@preact/signals'
import type { ComponentChildren } from 'preact'
import { useEffect, useLayoutEffect, useRef } from 'preact/hooks'
import css from './rows-in-sight.module.css'

/** Rows kept ready beyond either edge, and how many rows of scrolling change nothing. */
const BEYOND = 4
const STEP = 2

const scrollHeight = () => document.documentElement.scrollHeight

/**
 * A list of which only the rows in sight are in the page: a hundred thousand scroll as easily as ten.
 *
 * @param rowPx height of a row with the gap below it
 * @param whole the count will not grow by itself any more
 * @param place what of the list lies above the window, px (below 0: it begins inside); null at the
 *   page's top. Where it is kept, the list comes back as it was left
 * @param row nothing where its content is not there yet
 */
export function RowsInSight({
  count,
  rowPx,
  whole,
  place,
  row,
}: {
  count: number
  rowPx: number
  whole: boolean
  place?: Signal<number | null>
  row: (at: number) => ComponentChildren
}) {
  const list = useRef<HTMLUListElement>(null)
  const range = useSignal({ from: 0, size: 24 })

  // Back to the row where the list was left, whatever has come or gone above the list meanwhile.
  // Only the whole list is high enough for any place, and until then the place is not to be
  // overwritten.
  const wanted = useRef(place?.peek() ?? null)
  useLayoutEffect(() => {
    const element = list.current
    if (wanted.current === null || !element) return
    const goThere = () => {
      if (wanted.current === null) return
      const y = scrollY + element.getBoundingClientRect().top + wanted.current
      scrollTo(0, y)
      // A list that has become shorter ends before.
      const atEnd =
        whole && element.checkVisibility() && scrollY + innerHeight >= scrollHeight() - 1
      if (atEnd || Math.abs(scrollY - y) < 1) wanted.current = null
    }
    goThere()
    // A page that is not high enough yet, or not on show, is tried again when it has grown.
    const grown = new ResizeObserver(goThere)
    grown.observe(document.body)
    return () => grown.disconnect()
  }, [count, whole])
  useEffect(() => {
    const look = () => {
      // The jump to the top of the next page may be heard while this one is being put away.
      if (!list.current?.checkVisibility()) return
      const { top } = list.current.getBoundingClientRect()
      const from = Math.max(0, STEP * Math.floor((-top / rowPx - BEYOND) / STEP))
      const size = Math.ceil(innerHeight / rowPx) + 2 * BEYOND + STEP
      const now = range.peek()
      if (from !== now.from || size !== now.size) range.value = { from, size }
      if (place && wanted.current === null) place.value = scrollY === 0 ? null : -top
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
  }, [range, rowPx, place])

  const { from, size } = range.value
  const inSight = Array.from(
    { length: Math.max(0, Math.min(count, from + size) - from) },
    (_, i) => from + i,
  )
  return (
    <ul ref={list} class={css.rows} style={{ height: `${count * rowPx}px` }}>
      {inSight.map((at) => {
        const content = row(at)
        return (
          content && (
            <li
              // A row that leaves at one edge is used again for one that comes in at the other.
              key={at % size}
              aria-posinset={at + 1}
              aria-setsize={count}
              style={{ height: `${rowPx}px`, transform: `translateY(${at * rowPx}px)` }}
            >
              {content}
            </li>
          )
        )
      })}
    </ul>
  )
}
