import { useSignal } from '@preact/signals'
import { useEffect, useMemo } from 'preact/hooks'
import type { StoredRecording } from '../../log/recordings/types.ts'
import type { Summary } from '../../log/schema/types.ts'
import {
  createRecordingModel,
  type RecordingModel,
} from '../../session/recording/recording-model.ts'
import { useServices } from '../../session/services.ts'
import { Notices } from '../../ui/notices.tsx'
import { Plot } from '../../ui/plots/plot.tsx'
import { go } from '../../ui/router.ts'
import { sayFailure } from '../../ui/say-failure.ts'
import { say } from '../../ui/spoken.tsx'
import { showFigure, showPlusMinus, temperatureUnit } from '../../ui/temperature.ts'
import { showMoment } from '../../ui/words/dates.ts'
import { showDuration } from '../../ui/words/duration.ts'
import { noticeOfLogFailure } from '../../ui/words/log-errors.ts'
import { COURSE_WORDS, showSlope } from '../../ui/words/recording.ts'
import { AboutRecording } from './about-recording.tsx'
import { nameOf } from './list-screen.tsx'
import { PlateauPanel } from './plateau-panel.tsx'
import { recordingPlotData, timeScale } from './plot-data.ts'
import styles from './recording.module.css'
import { restOfRecordings } from './recording-place.ts'
import { StretchPanel } from './stretch-panel.tsx'
import { TimesPanel } from './times-panel.tsx'
import { troubleShares, troubleSpans } from './troubles.ts'

/** One recording: its curve, and what can be read from it. */
export function RecordingScreen({ id }: { id: string }) {
  const { log } = useServices()
  const model = useMemo(() => createRecordingModel(log, id), [log, id])
  useEffect(() => () => model.dispose(), [model])
  const stored = model.stored.value
  const failure = noticeOfLogFailure(model.failure.value)
  return (
    <main class="screen" aria-busy={stored === null && !failure}>
      <header>
        <a class="button" href="/log/recordings">
          Back
        </a>
        <h1>{stored ? nameOf(stored.head) : 'Recording'}</h1>
        {stored?.head.simulated && <span class="tag">Simulated</span>}
      </header>
      {failure && <Notices notices={[failure]} />}
      {stored === undefined && (
        <p class="card">Not in this log. It was deleted, or it is on another device.</p>
      )}
      {stored && <Whole model={model} stored={stored} />}
    </main>
  )
}

function Whole({ model, stored }: { model: RecordingModel; stored: StoredRecording }) {
  const { log } = useServices()
  const { head, columns } = stored
  const meanwhile = useSignal<readonly Summary[]>([])
  const startedMs = Date.parse(head.startedAt.iso)
  useEffect(() => {
    const toMs = startedMs + 1000 * head.durationSeconds
    log
      .then((opened) => opened.find({ fromMs: startedMs, toMs }))
      .then((view) => {
        meanwhile.value = view.summaries()
      })
      .catch(() => undefined)
  }, [log, startedMs, head.durationSeconds])

  const unit = temperatureUnit.value
  const { highestK, lowestK, commonK } = head
  // A band much taller than the curve would press it flat.
  const tall = 2 * (commonK ?? 0) > (highestK ?? 0) - (lowestK ?? 0)
  const band = useSignal(!tall)
  const curve = model.curve.value
  const plateaus = model.plateaus.value
  const data = useMemo(
    () =>
      curve &&
      recordingPlotData({
        curve,
        title: `${nameOf(head)}: temperature over time`,
        durationSeconds: head.durationSeconds,
        marks: head.marks,
        plateaus: (plateaus ?? []).map(({ plateau }) => plateau),
        troubles: troubleSpans(columns),
        readings: meanwhile.value,
        startedMs,
        band: band.value,
      }),
    [curve, head, plateaus, meanwhile.value, unit, band.value],
  )
  const { per } = timeScale(head.durationSeconds)
  return (
    <>
      <div class={styles.columns}>
        <div class="stack">
          {data && (
            <Plot
              data={data}
              fileName={`glowbook-recording-${head.startedAt.iso.slice(0, 10)}`}
              note={showMoment(head.startedAt.iso)}
              onCursor={(x) => {
                if (x !== null) model.cursor.value = x * per
              }}
            />
          )}
          {commonK !== null && (
            <label class="choice">
              <input
                type="checkbox"
                checked={band.value}
                onChange={(event) => {
                  band.value = event.currentTarget.checked
                }}
              />
              <span>Show the band: the whole curve may lie {showPlusMinus(commonK)} off</span>
            </label>
          )}
          <CursorLine model={model} duration={head.durationSeconds} />
          <Figures model={model} />
        </div>
        <div class="stack">
          <PlateauPanel model={model} />
          <TimesPanel model={model} />
          <StretchPanel model={model} duration={head.durationSeconds} marks={head.marks} />
        </div>
      </div>
      <AboutRecording model={model} stored={stored} />
      <p class="soft small">{troubleShares(columns)}</p>
      <div class="row tight">
        <ExportButton stored={stored} />
        <DeleteButton id={head.id} />
      </div>
    </>
  )
}

/** The place under the cursor; the slider does what a finger on the plot does. */
function CursorLine({ model, duration }: { model: RecordingModel; duration: number }) {
  const place = model.place.value
  const slope = place?.slope
  return (
    <div class="card stack">
      <label class="field">
        <span>Place on the curve{place && `: ${showDuration(place.seconds)}`}</span>
        <input
          type="range"
          min={0}
          max={duration}
          step="any"
          value={place?.seconds ?? 0}
          onInput={(event) => {
            model.cursor.value = event.currentTarget.valueAsNumber
          }}
        />
      </label>
      {place && (
        <p class="figure" role="status">
          {slope ? (
            <>
              <strong>{showFigure(slope.temperatureK, 2 * commonAt(model, place.seconds))}</strong>
              {' · '}
              {showSlope(slope.slope, slope.standardUncertainty)}
            </>
          ) : (
            'No figure here.'
          )}
        </p>
      )}
    </div>
  )
}

function commonAt({ curve }: RecordingModel, seconds: number): number {
  const of = curve.value
  if (!of) return 0
  let best = 0
  for (let i = 0; i < of.seconds.length; i++)
    if (
      Math.abs(of.seconds[i]! - seconds) < Math.abs(of.seconds[best]! - seconds) &&
      Number.isFinite(of.commonK[i]!)
    )
      best = i
  return of.commonK[best] || 0
}

function Figures({ model }: { model: RecordingModel }) {
  const peak = model.peak.value
  const course = model.course.value
  return (
    <dl class={styles.tiles}>
      {peak && (
        <div>
          <dt>Peak</dt>
          <dd>
            {showFigure(peak.temperatureK, 2 * peak.standardUncertaintyK)}
            <span class={styles.under}>at {showDuration(peak.seconds)}</span>
          </dd>
        </div>
      )}
      {course && (
        <div>
          <dt>At the end</dt>
          <dd>
            {COURSE_WORDS[course.verdict]}
            <span class={styles.under}>
              {showSlope(course.slope.slope, course.slope.standardUncertainty)},{' '}
              {Math.min(99, Math.floor(100 * course.sureness))} % sure
            </span>
          </dd>
        </div>
      )}
    </dl>
  )
}

function ExportButton({ stored }: { stored: StoredRecording }) {
  const { now } = useServices()
  return (
    <button
      type="button"
      class="grow"
      onClick={() =>
        void import('../../session/recording/recording-exchange.ts')
          .then(({ exportRecording }) => exportRecording(stored, now()))
          .catch(sayFailure)
      }
    >
      Export (CSV in a ZIP)
    </button>
  )
}

function DeleteButton({ id }: { id: string }) {
  const { log } = useServices()
  const remove = async () => {
    const { recordings } = await log
    const undo = await recordings.remove([id])
    go('log', restOfRecordings())
    say('Recording deleted.', {
      label: 'Undo',
      run: () => void recordings.restore(undo).catch(sayFailure),
    })
  }
  return (
    <button type="button" class="grow danger" onClick={() => void remove().catch(sayFailure)}>
      Delete
    </button>
  )
}
