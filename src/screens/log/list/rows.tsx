import type { ListModel } from '../../../session/log/list-model.ts'
import { RowsInSight } from '../../../ui/rows-in-sight.tsx'
import { LogRow } from './log-row.tsx'

/** Height of a row, px, the same in log.module.css. */
const ROW_PX = 76

/** The readings of the list, where it was left: the newest at once, then all that fit. */
export function ReadingRows({ model }: { model: ListModel }) {
  const view = model.view.value
  const newest = model.newest.value
  const chosen = model.selection.chosen.value
  return (
    <RowsInSight
      count={view?.count ?? newest?.length ?? 0}
      rowPx={ROW_PX}
      whole={view !== null}
      place={model.place}
      row={(at) => {
        const summary = view ? view.at(at) : newest?.[at]
        return (
          summary && (
            <LogRow
              summary={summary}
              chosen={chosen ? chosen.has(summary.id) : null}
              onToggle={model.selection.toggle}
            />
          )
        )
      }}
    />
  )
}
