import { useSignal } from '@preact/signals'
import { partsOfFilter } from '../../../session/log/filter-draft.ts'
import type { ListModel } from '../../../session/log/list-model.ts'
import { canBeRescued } from '../../../session/log/rescued-log.ts'
import type { StatusModel } from '../../../session/log/status-model.ts'
import { useServices } from '../../../session/services.ts'
import { later } from '../../../ui/later.tsx'
import { Notices } from '../../../ui/notices.tsx'
import { useLayer } from '../../../ui/use-layer.ts'
import { emptyLog, NOTHING_FITS, readingsWord } from '../../../ui/words/log.ts'
import { noticeOfLogFailure } from '../../../ui/words/log-errors.ts'
import css from '../log.module.css'
import { hrefOfPlace } from '../log-place.ts'
import { DemoButton } from '../storage/demo-section.tsx'
import { FilterChips } from './filter-chips.tsx'
import { LogNotices } from './log-notices.tsx'
import { OlderReadings } from './older-readings.tsx'
import { ReadingRows } from './rows.tsx'

const FilterDialog = later(async () => (await import('./filter-dialog.tsx')).FilterDialog)
const RescuePanel = later(async () => (await import('../storage/rescue-panel.tsx')).RescuePanel)
const SelectionDock = later(async () => (await import('./selection-dock.tsx')).SelectionDock)

/** All readings, newest first: found by words and filters, opened, or chosen. */
export function LogList({ model, status }: { model: ListModel; status: StatusModel }) {
  const filtering = useSignal(false)
  const { logBlocked } = useServices()
  const filter = model.filter.value
  const narrowed = partsOfFilter(filter).length
  const count = model.view.value?.count ?? model.total.value ?? undefined
  const failure = noticeOfLogFailure(model.failure.value)
  const choosing = model.selection.chosen.value !== null
  useLayer(choosing, () => model.selection.end())
  const recordings = model.recordings.value
  const empty = recordings === null ? null : emptyLog(recordings)
  const nothing = count === 0 && narrowed === 0 && !filter.text
  return (
    <main class={`screen ${css.log}`}>
      <header>
        <h1>Log</h1>
        {count !== undefined && count > 0 && <span class="soft">{readingsWord(count)}</span>}
        {!choosing && count !== undefined && count > 0 && (
          <button type="button" onClick={() => model.selection.begin()}>
            Select
          </button>
        )}
        {choosing && (
          <button type="button" onClick={() => model.selection.end()}>
            Done
          </button>
        )}
      </header>
      {failure && (
        <>
          <Notices notices={[failure]} />
          <button type="button" onClick={() => location.reload()}>
            Reload
          </button>
          {canBeRescued(model.failure.value) && <RescuePanel />}
        </>
      )}
      {logBlocked.value && count === undefined && !failure && (
        <p role="status" class="card">
          Another tab holds the log open. Close the other tabs of this app.
        </p>
      )}
      {!choosing && <LogNotices status={status} here="list" />}
      <div class={css.tools}>
        {!nothing && count !== undefined && (
          <div class={css.find}>
            <label>
              <span class="unseen">Search object, surface, tags and notes</span>
              <input
                type="search"
                placeholder="Search"
                value={filter.text ?? ''}
                onInput={(event) => {
                  const text = event.currentTarget.value
                  const { text: _, ...rest } = filter
                  model.find(text ? { ...rest, text } : rest)
                }}
              />
            </label>
            <button
              type="button"
              onClick={() => {
                filtering.value = true
              }}
            >
              {narrowed > 0 ? `Filter (${narrowed})` : 'Filter'}
            </button>
          </div>
        )}
        {!choosing && count !== undefined && (
          <div class={`row tight ${css.ways}`}>
            <a class="button grow" href={hrefOfPlace({ kind: 'by hand' })}>
              By hand
            </a>
            {!nothing && (
              <a
                class="button grow"
                href={hrefOfPlace({ kind: 'series', object: filter.object ?? '' })}
              >
                Series
              </a>
            )}
            <a class="button grow" href="/log/recordings">
              Recordings
            </a>
            <a class="button grow" href={hrefOfPlace({ kind: 'keeping' })}>
              Backup
            </a>
          </div>
        )}
      </div>
      {!choosing && <OlderReadings model={model} />}
      <FilterChips model={model} />
      {nothing
        ? empty && (
            <section class="card stack">
              <h2>{empty.title}</h2>
              <p>{empty.line}</p>
              <DemoButton />
            </section>
          )
        : count === 0 && <p class="card">{NOTHING_FITS}</p>}
      <ReadingRows model={model} />
      {choosing && <SelectionDock model={model} />}
      {filtering.value && (
        <FilterDialog
          model={model}
          onClose={() => {
            filtering.value = false
          }}
        />
      )}
    </main>
  )
}
