import { useSignal } from '@preact/signals'
import { useEffect, useMemo } from 'preact/hooks'
import type { RecordingHead } from '../../log/recordings/recording-schema.ts'
import { createRecordingListModel } from '../../session/recording/list-model.ts'
import { useServices } from '../../session/services.ts'
import { FileButton } from '../../ui/file-button.tsx'
import { Notices } from '../../ui/notices.tsx'
import { go } from '../../ui/router.ts'
import { sayFailure } from '../../ui/say-failure.ts'
import { say } from '../../ui/spoken.tsx'
import { showFigure } from '../../ui/temperature.ts'
import { showMoment } from '../../ui/words/dates.ts'
import { showDuration } from '../../ui/words/duration.ts'
import { noticeOfLogFailure } from '../../ui/words/log-errors.ts'
import {
  EMPTY_RECORDINGS,
  importedRecordings,
  recordingsWord,
  SOURCES,
} from '../../ui/words/recording.ts'
import styles from './recording.module.css'
import { hrefOfRecordings, restOfRecordings } from './recording-place.ts'
import { Spark } from './spark.tsx'

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
      {list && (
        <ul class={styles.rows}>
          {list.items.map((head) => (
            <li key={head.id} class={choosing ? '' : styles.bare}>
              {choosing && (
                <label class={styles.check}>
                  <span class="unseen">{nameOf(head)}</span>
                  <input
                    type="checkbox"
                    checked={ids.includes(head.id)}
                    onChange={() => {
                      chosen.value = ids.includes(head.id)
                        ? ids.filter((id) => id !== head.id)
                        : [...ids, head.id]
                    }}
                  />
                </label>
              )}
              <Row head={head} />
            </li>
          ))}
          {list.damaged.map(({ id, where }) => (
            <li key={id} class={styles.bare}>
              <p class="card">A damaged recording ({where}). It is kept as it is.</p>
            </li>
          ))}
        </ul>
      )}
      {choosing && (
        <div class="dock row tight">
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
      )}
    </main>
  )
}

/** What a recording is called: its object, or when it was made. */
export const nameOf = ({ object, startedAt }: RecordingHead): string =>
  object || showMoment(startedAt.iso)

function Row({ head }: { head: RecordingHead }) {
  const { highestK, commonK, startedAt, durationSeconds, source, simulated } = head
  return (
    <a class={styles.row} href={hrefOfRecordings(head.id)}>
      <Spark values={head.spark} />
      <span class={styles.lines}>
        <strong class={styles.object}>{head.object || SOURCES[source]}</strong>
        <span class={styles.line}>
          {highestK === null ? (
            <span class="soft">no figure</span>
          ) : (
            <span class="figure">to {showFigure(highestK, 2 * (commonK ?? 0))}</span>
          )}
          {simulated && <span class="tag">Simulated</span>}
        </span>
        <span class="soft small">
          {showMoment(startedAt.iso)} · {showDuration(durationSeconds)}
        </span>
      </span>
    </a>
  )
}
