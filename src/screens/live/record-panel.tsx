import { type Signal, useSignal } from '@preact/signals'
import { useEffect } from 'preact/hooks'
import type { LiveModel } from '../../session/live/live-model-type.ts'
import type { LiveRecorder, Rate } from '../../session/recording/live-recorder.ts'
import { runningRecording } from '../../session/recording/running.ts'
import { useServices } from '../../session/services.ts'
import { batteryIsLow } from '../../sources/live/battery.ts'
import { Notices } from '../../ui/notices.tsx'
import { go } from '../../ui/router.ts'
import { Segments } from '../../ui/segments.tsx'
import { askToKeep } from '../../ui/settings.ts'
import { say } from '../../ui/spoken.tsx'
import { useTyped } from '../../ui/use-typed.ts'
import { showDuration } from '../../ui/words/duration.ts'
import { logSentence } from '../../ui/words/log-errors.ts'
import { BATTERY_LOW, MARK_NAMES, RECORDING_LIMIT, SLOW_DEVICE } from '../../ui/words/recording.ts'
import { RecordCurve } from './record-curve.tsx'
import styles from './record-panel.module.css'

/** Under this share of the readings that were asked for the device counts as slow. */
const SLOW_SHARE = 0.6
/** Not before so many seconds. */
const SLOW_AFTER = 10

/** One large button begins and ends a recording; marks by a tap. */
export function RecordPanel({
  model,
  rate,
  onSurface,
}: {
  model: LiveModel
  rate: Signal<Rate>
  /** Does it when the surface is said. */
  onSurface: (run: () => void) => void
}) {
  const { log, now } = useServices()
  const starting = useSignal(false)
  const failure = useSignal<string | null>(null)
  const low = useSignal(false)
  const running = runningRecording.value

  useEffect(() => running?.attach(model), [running, model])
  useEffect(() => {
    void batteryIsLow().then((is) => {
      low.value = is
    })
  }, [running])

  const begin = async () => {
    if (starting.value || runningRecording.peek()) return
    starting.value = true
    failure.value = null
    try {
      const [opened, { startRecorder }] = await Promise.all([
        log,
        import('../../session/recording/live-recorder.ts'),
      ])
      const recorder = await startRecorder({ log: opened, model, rate: rate.value, now })
      follow(recorder)
      runningRecording.value = recorder
      void askToKeep(opened)
    } catch (error) {
      failure.value = logSentence(error)
    } finally {
      starting.value = false
    }
  }

  /** It may end by the button, on another screen, by its limit, or by a full disk. */
  const follow = (recorder: LiveRecorder) => {
    const offs = [
      recorder.ended.subscribe((head) => {
        if (!head) return
        runningRecording.value = null
        for (const off of offs) off()
        say(`Recorded: ${showDuration(head.durationSeconds)}.`, {
          label: 'Open',
          run: () => go('log', `recordings/${head.id}`),
        })
      }),
      recorder.failure.subscribe((error) => {
        if (error === null) return
        failure.value = `The recording has ended. ${logSentence(error)}`
        runningRecording.value = null
      }),
    ]
  }

  const slow =
    running !== null &&
    running.seconds.value > SLOW_AFTER &&
    running.count.value < SLOW_SHARE * rate.value * running.seconds.value
  return (
    <section class="stack">
      <button
        type="button"
        class={running ? `wide ${styles.end}` : 'wide'}
        disabled={starting.value}
        onClick={() => (running ? void running.stop() : onSurface(() => void begin()))}
      >
        {running ? (
          <>
            <i class={styles.dot} />
            End recording {showDuration(running.seconds.value)}
          </>
        ) : (
          'Record heat over time'
        )}
      </button>
      {failure.value && (
        <p role="alert" class="failure">
          {failure.value}
        </p>
      )}
      {running && (
        <>
          <RecordCurve points={running.shown.value} />
          <div class="row tight">
            {MARK_NAMES.map((name) => (
              <button
                key={name}
                type="button"
                class="grow"
                onClick={() => {
                  running.mark(name)
                  navigator.vibrate?.(30)
                  say(`${name}: ${showDuration(running.seconds.peek())}`)
                }}
              >
                {name}
              </button>
            ))}
          </div>
          <MarkNote running={running} />
        </>
      )}
      <Notices notices={[...(low.value ? [BATTERY_LOW] : []), ...(slow ? [SLOW_DEVICE] : [])]} />
    </section>
  )
}

/** How often a recording takes the figure; settled before it begins. */
export function RatePanel({ rate }: { rate: Signal<Rate> }) {
  if (runningRecording.value) return null
  return (
    <details>
      <summary>Readings a second: {rate.value}</summary>
      <div class="inside">
        <Segments
          of={[
            ['1', '1'],
            ['2', '2'],
            ['5', '5'],
            ['10', '10'],
          ]}
          chosen={String(rate.value)}
          onChoose={(value) => {
            rate.value = Number(value) as Rate
          }}
        />
        <p class="soft small">{RECORDING_LIMIT}</p>
      </div>
    </details>
  )
}

/** A mark with words of its own. */
function MarkNote({ running }: { running: LiveRecorder }) {
  const text = useTyped('mark')
  return (
    <form
      class="row"
      onSubmit={(event) => {
        event.preventDefault()
        const note = text.value.trim()
        if (note === '') return
        running.mark('Mark', note)
        text.value = ''
        say(`Marked: ${note}`)
      }}
    >
      <input
        type="text"
        class={styles.note}
        maxLength={400}
        placeholder="Note"
        aria-label="Note of a mark"
        value={text.value}
        onInput={(event) => {
          text.value = event.currentTarget.value
        }}
      />
      <button type="submit" disabled={text.value.trim() === ''}>
        Mark it
      </button>
    </form>
  )
}
