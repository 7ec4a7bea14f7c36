import { useEffect, useMemo } from 'preact/hooks'
import { address } from '../../ui/router.ts'
import { useServices } from '../services.ts'
import { ByHandScreen } from './entry/by-hand-screen.tsx'
import { ReadingEntry } from './entry/reading-entry.tsx'
import { KeepingScreen } from './keeping/keeping-screen.tsx'
import { createStatusModel } from './keeping/status-model.ts'
import { createListModel } from './list/list-model.ts'
import { LogList } from './list/log-list.tsx'
import './log.css'
import { logPlace } from './log-place.ts'
import { PairScreen } from './pair/pair-screen.tsx'
import { SeriesScreen } from './series/series-screen.tsx'

/** The log: a list, newest first, and behind it readings, pairs, series, and the keeping of it all. */
export function LogScreen() {
  const { log } = useServices()
  // Filter, choice and place in the list outlive a look at one reading.
  const list = useMemo(() => createListModel(log), [log])
  const status = useMemo(() => createStatusModel(log), [log])
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
