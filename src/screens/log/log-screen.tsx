import { useEffect, useMemo } from 'preact/hooks'
import { createListModel } from '../../session/log/list-model.ts'
import { createStatusModel } from '../../session/log/status-model.ts'
import { useServices } from '../../session/services.ts'
import { later } from '../../ui/later.tsx'
import { address } from '../../ui/router.ts'
import { LogList } from './list/log-list.tsx'
import css from './log.module.css'
import { logPlace } from './log-place.ts'

// The list comes first and alone; what lies behind it when it is opened.
const busy = <main class={`screen ${css.log}`} aria-busy="true" />
const ReadingEntry = later(
  async () => (await import('./entry/reading-entry.tsx')).ReadingEntry,
  busy,
)
const ByHandScreen = later(
  async () => (await import('./entry/by-hand-screen.tsx')).ByHandScreen,
  busy,
)
const PairScreen = later(async () => (await import('./pair/pair-screen.tsx')).PairScreen, busy)
const SeriesScreen = later(
  async () => (await import('./series/series-screen.tsx')).SeriesScreen,
  busy,
)
const KeepingScreen = later(
  async () => (await import('./storage/storage-screen.tsx')).KeepingScreen,
  busy,
)

/** The log: a list, newest first, and behind it readings, pairs, series, and the keeping of it all. */
export function LogScreen() {
  const { log } = useServices()
  // Filter, choice and place in the list outlive a look at one reading.
  const list = useMemo(() => createListModel(log), [log])
  const status = useMemo(() => createStatusModel(log, list.ready), [log, list])
  useEffect(
    () => () => {
      list.dispose()
      status.dispose()
    },
    [list, status],
  )
  const place = logPlace(address.value.rest)
  switch (place.kind) {
    case 'list':
      return <LogList model={list} status={status} />
    case 'entry':
      return <ReadingEntry id={place.id} list={list} key={place.id} />
    case 'by hand':
      return <ByHandScreen list={list} />
    case 'pair':
      return <PairScreen ids={place.ids} />
    case 'series':
      return <SeriesScreen object={place.object} list={list} />
    case 'keeping':
      return <KeepingScreen status={status} />
  }
}
