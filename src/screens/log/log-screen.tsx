import { useEffect, useMemo } from 'preact/hooks'
import { createListModel } from '../../session/log/list-model.ts'
import { createStatusModel } from '../../session/log/status-model.ts'
import { useServices } from '../../session/services.ts'
import { laterScreen } from '../../ui/later.tsx'
import { address } from '../../ui/router.ts'
import { LogList } from './list/log-list.tsx'
import { logPlace } from './log-place.ts'

// The list comes first and alone; what lies behind it when it is opened.
const ReadingEntry = laterScreen(
  async () => (await import('./entry/reading-entry.tsx')).ReadingEntry,
)
const ByHandScreen = laterScreen(
  async () => (await import('./entry/by-hand-screen.tsx')).ByHandScreen,
)
const PairScreen = laterScreen(async () => (await import('./pair/pair-screen.tsx')).PairScreen)
const SeriesScreen = laterScreen(
  async () => (await import('./series/series-screen.tsx')).SeriesScreen,
)
const KeepingScreen = laterScreen(
  async () => (await import('./storage/storage-screen.tsx')).KeepingScreen,
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
