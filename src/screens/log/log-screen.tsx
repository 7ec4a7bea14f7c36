import { useSignal } from '@preact/signals'
import { useEffect, useMemo, useRef } from 'preact/hooks'
import type { Summary } from '../../log/types.ts'
import { address } from '../../ui/router.ts'
import { useServices } from '../services.ts'
import './log.css'
import { createLogListModel, type LogListModel } from './log-list-model.ts'
import { LogRow } from './log-row.tsx'
import { ReadingEntry } from './reading-entry.tsx'

/** The log: a list, newest first, and behind each line the whole reading. */
export function LogScreen() {
  const { rest } = address.value
  return rest ? <ReadingEntry id={rest} /> : <LogList />
}

function LogList() {
  const { log } = useServices()
  const model = useMemo(() => createLogListModel(log), [log])
  useEffect(() => () => model.dispose(), [model])
  const view = model.view.value
  const count = view?.count ?? model.newest.value?.length
  return (
    <main class="screen log">
      <header>
        <h1>Log</h1>
        {count !== undefined && (
          <span class="soft">{count === 1 ? '1 reading' : `${count} readings`}</span>
        )}
      </header>
      {model.failure.value && <p role="alert">{model.failure.value}</p>}
      {(count ?? 0) > 0 || model.filter.value.text ? (
        <label class="field">
          <span class="unseen">Search object, material, tags and notes</span>
          <input
            type="search"
            placeholder="Search"
            value={model.filter.value.text ?? ''}
            onInput={(event) => {
              const text = event.currentTarget.value
              model.find(text ? { ...model.filter.value, text } : {})
            }}
          />
        </label>
      ) : null}
      <Rows model={model} />
    </main>
  )
}

/** Height of a row, px, the same in log.css. */
const ROW_PX = 76
const BEYOND = 8

/** Only the rows in sight are in the page: a hundred thousand scroll as easily as ten. */
function Rows({ model }: { model: LogListModel }) {
  const list = useRef<HTMLUListElement>(null)
  const range = useSignal({ from: 0, to: 20 })
  const view = model.view.value
  const newest = model.newest.value
  const count = view?.count ?? newest?.length ?? 0
  useEffect(() => {
    const look = () => {
      const top = list.current?.getBoundingClientRect().top ?? 0
      const from = Math.max(0, Math.floor(-top / ROW_PX) - BEYOND)
      const to = Math.ceil((innerHeight - top) / ROW_PX) + BEYOND
      const now = range.peek()
      if (from !== now.from || to !== now.to) range.value = { from, to }
    }
    look()
    addEventListener('scroll', look, { passive: true })
    addEventListener('resize', look)
    return () => {
      removeEventListener('scroll', look)
      removeEventListener('resize', look)
    }
  }, [range])
  if (newest === null && view === null) return null
  if (count === 0) {
    return (
      <p class="card">
        {model.filter.value.text
          ? 'Nothing fits the search.'
          : 'Nothing here yet. Take a reading and save it: it stays on this device, dated, with all that is needed to compute it again.'}
      </p>
    )
  }
  const rows: { at: number; summary: Summary }[] = []
  for (let at = range.value.from; at < Math.min(count, range.value.to); at++) {
    const summary = view ? view.at(at) : newest?.[at]
    if (summary) rows.push({ at, summary })
  }
  return (
    <ul ref={list} class="log-rows" style={{ height: `${count * ROW_PX}px` }}>
      {rows.map(({ at, summary }) => (
        <li
          key={summary.id}
          aria-posinset={at + 1}
          aria-setsize={count}
          style={{ transform: `translateY(${at * ROW_PX}px)` }}
        >
          <LogRow summary={summary} />
        </li>
      ))}
    </ul>
  )
}
