import { useSignal } from '@preact/signals'
import { useEffect, useMemo } from 'preact/hooks'
import type { RecordingHead } from '../../log/recordings/recording-schema.ts'
import { createRecordingListModel } from '../../session/recording/list-model.ts'
import { useServices } from '../../session/services.ts'
import { FileButton } from '../../ui/file-button.tsx'
import { Notices } from '../../ui/notices.tsx'
import { go } from '../../ui/router.ts'
import { RowsInSight } from '../../ui/rows-in-sight.tsx'
import { sayFailure } from '../../ui/say-failure.ts'
import { say } from '../../ui/spoken.tsx'
import { showFigure } from '../../ui/temperature.ts'
import { showMoment } from '../../ui/words/dates.ts'
import { showDuration } from '../../ui/words/duration.ts'
import { NOTHING_FITS, recordingsWord } from '../../ui/words/log.ts'
import { noticeOfLogFailure } from '../../ui/words/log-errors.ts'
import { EMPTY_RECORDINGS, importedRecordings, SOURCES } from '../../ui/words/recording.ts'
import styles from './recording.module.css'
import { hrefOfRecordings, restOfRecordings } from './recording-place.ts'
import { Spark } from './spark.tsx'

/** Height of a row with the gap below it, px, the same in recording.module.css. */
const ROW_PX = 96
/** More than are seen at once are searched, not only looked through. */
const SEARCHED_FROM = 8
/** Curves on one plot at most: more cannot be told apart. */
const MOST_OVERLAID = 6

/** All recordings, newest first. */
export function RecordingListScreen() {
  const { log } = useServices()
  const model = useMemo(() => createRecordingListModel(log), [log])
  useEffect(() => () => model.dispose(), [model])
  const chosen = useSignal<readonly string[] | null>(null)
  const list = model.list.value
  const failure = noticeOfLogFailure(model.failure.value)
  const choosing = chosen.value !== null
  const ids = chosen.value ?? []
  const found = model.found.value
  const toggle = (id: string) => {
    chosen.value = ids.includes(id) ? ids.filter((one) => one !== id) : [...ids, id]
  }

  const remove = async () => {
    chosen.value = null
    const undo = await model.remove(ids)
    say(`${recordingsWord(undo.ids.length)} deleted.`, {
      label: 'Undo',
      run: () => void model.restore(undo).catch(sayFailure),
    })
  }

  const bring = async (file: File) => {
    const { importRecordings } = await import('../../session/recording/recording-exchange.ts')
    const { added, kept } = await importRecordings(await log, file)
    say(importedRecordings(added, kept))
  }

  return (
    <main class="screen">
      <header>
        <a class="button" href="/log">
          Back
        </a>
        <h1>Recordings</h1>
        {list && list.items.length > 0 && (
          <button
            type="button"
            onClick={() => {
              chosen.value = choosing ? null : []
            }}
          >
            {choosing ? 'Done' : 'Select'}
          </button>
        )}
      </header>
      {failure && <Notices notices={[failure]} />}
      {!choosing && (
        <div class="side-by-side">
          <a class="button wide primary" href="/reading/live">
            Record live
          </a>
          <a class="button wide" href={hrefOfRecordings('video')}>
            From a video
          </a>
          <FileButton
            accept=".zip,.csv,application/zip,text/csv"
            onFiles={([file]) => file && void bring(file).catch(sayFailure)}
          >
            Import
          </FileButton>
        </div>
      )}
      {list && list.items.length === 0 && <p class="card">{EMPTY_RECORDINGS}</p>}
      {list && (list.items.length > SEARCHED_FROM || model.text.value !== '') && (
        <label>
          <span class="unseen">Search object, surface, notes and marks</span>
          <input
            type="search"
            placeholder="Search"
            value={model.text.value}
            onInput={(event) => {
              model.text.value = event.currentTarget.value
            }}
          />
        </label>
      )}
      {list && list.items.length > 0 && found.length === 0 && <p class="card">{NOTHING_FITS}</p>}
      <RowsInSight
        count={found.length}
        rowPx={ROW_PX}
        whole={list !== null}
        row={(at) => {
          const head = found[at]
          return (
            head && (
              <Row head={head} chosen={choosing ? ids.includes(head.id) : null} onToggle={toggle} />
            )
          )
        }}
      />
      {list?.damaged.map(({ id, where }) => (
        <p key={id} class="card">
          A damaged recording ({where}). It is kept as it is.
        </p>
      ))}
      {choosing && (
        <div class="dock stack">
          {/* Also those that a search has hidden since. */}
          <span role="status">{recordingsWord(ids.length)} chosen</span>
          <div class="row tight">
            <button
              type="button"
              class="grow"
              disabled={ids.length < 2 || ids.length > MOST_OVERLAID}
              onClick={() => go('log', restOfRecordings(...ids))}
            >
              On one plot
            </button>
            <button
              type="button"
              class="grow danger"
              disabled={ids.length === 0}
              onClick={() => void remove().catch(sayFailure)}
            >
              Delete
            </button>
          </div>
        </div>
      )}
    </main>
  )
}

/** What a recording is called: its object, or when it was made. */
export const nameOf = ({ object, startedAt }: RecordingHead): string =>
  object || showMoment(startedAt.iso)

/**
 * One line of the list: it leads to the recording, or chooses it.
 *
 * @param chosen null while nothing is being chosen
 */
function Row({
  head,
  chosen,
  onToggle,
}: {
  head: RecordingHead
  chosen: boolean | null
  onToggle: (id: string) => void
}) {
  if (chosen === null)
    return (
      <a class={styles.row} href={hrefOfRecordings(head.id)}>
        <Spark values={head.spark} />
        <RecordingLines head={head} />
      </a>
    )
  return (
    <label class={styles.row}>
      <input
        type="checkbox"
        aria-label={nameOf(head)}
        checked={chosen}
        onChange={() => onToggle(head.id)}
      />
      <RecordingLines head={head} />
    </label>
  )
}

export function RecordingLines({ head }: { head: RecordingHead }) {
  const { highestK, commonK, startedAt, durationSeconds, source, simulated } = head
  return (
    <span class={styles.lines}>
      <strong class={styles.object}>{head.object || SOURCES[source]}</strong>
      <span class={styles.line}>
        {highestK === null ? (
          <span class="soft">no figure</span>
        ) : (
          <span class="figure">up to {showFigure(highestK, 2 * (commonK ?? 0))}</span>
        )}
        {simulated && <span class="tag">Simulated</span>}
      </span>
      <span class="soft small">
        {showMoment(startedAt.iso)} · {showDuration(durationSeconds)}
      </span>
    </span>
  )
}
