import { useSignal } from '@preact/signals'
import {
  checkIn,
  checkInDue,
  type FireWatch,
  lengthen,
  lengthMinutes,
  shorten,
  startFireWatch,
  USUAL_MINUTES,
} from '../../session/safety/fire-watch.ts'
import { jobRecord } from '../../session/safety/job-record.ts'
import { useServices } from '../../session/services.ts'
import { NumberField } from '../../ui/number-field.tsx'
import { go } from '../../ui/router.ts'
import { sayFailure } from '../../ui/say-failure.ts'
import { say } from '../../ui/spoken.tsx'
import { TextField } from '../../ui/text-field.tsx'
import { useTyped } from '../../ui/use-typed.ts'
import { clockWords } from '../../ui/words/safety-names.ts'
import { alarmWords, WATCH_REFUSALS, WATCH_WORDS } from '../../ui/words/safety-work.ts'
import css from './safety.module.css'

/** The watch after hot work: one tap starts it, the deadline is on the disk. */
export function FireWatchPanel() {
  const { safety } = useServices()
  const watch = safety.watch.value
  return (
    <section class="card stack" aria-label={WATCH_WORDS.title}>
      <h2>{WATCH_WORDS.title}</h2>
      {watch ? <RunningWatch watch={watch} /> : <StartWatch />}
    </section>
  )
}

function StartWatch() {
  const { safety, now } = useServices()
  const minutes = useSignal<number | null>(USUAL_MINUTES)
  const reason = useTyped('short watch')
  const refusal = useSignal<string | null>(null)
  const start = () => {
    const made = startFireWatch(now(), minutes.value ?? 0, reason.value)
    refusal.value = typeof made === 'string' ? WATCH_REFUSALS[made] : null
    if (typeof made === 'string') return
    safety.setWatch(made)
    if ('Notification' in globalThis && Notification.permission === 'default')
      void Notification.requestPermission().catch(() => undefined)
  }
  return (
    <>
      <p class="small soft">{WATCH_WORDS.line}</p>
      <button type="button" class={`primary wide ${css.main}`} onClick={start}>
        Start {minutes.value ?? '…'} minutes
      </button>
      <details>
        <summary>Another length</summary>
        <div class="inside">
          <NumberField
            label="Minutes"
            value={minutes.value}
            min={1}
            max={1440}
            onValue={(value) => {
              minutes.value = value
            }}
          />
          <TextField
            label="Reason, where below 30"
            value={reason.value}
            onValue={(value) => {
              reason.value = value
            }}
          />
        </div>
      </details>
      {refusal.value && (
        <p role="alert" class="failure">
          {refusal.value}
        </p>
      )}
    </>
  )
}

function RunningWatch({ watch }: { watch: FireWatch }) {
  const { safety, now } = useServices()
  const reason = useTyped('end of watch')
  const left = safety.secondsLeft.value
  const due = left > 0 && checkInDue(watch, safety.now.value)
  const finish = (of: FireWatch) => {
    const rounds = of.checkIns.length
    const notes = [
      `Fire watch of ${Math.round(lengthMinutes(of))} minutes, from ${of.startedAt} to ${of.endsAt}.`,
      `${rounds} ${rounds === 1 ? 'round' : 'rounds'} noted.`,
      ...(of.reason ? [`Shortened: ${of.reason}.`] : []),
    ].join('\n')
    safety
      .finish(jobRecord('fire watch', 'Fire watch', notes, { ...of }), 'watch')
      .then(() => say('In the log.', { label: 'Log', run: () => go('log') }), sayFailure)
  }
  return (
    <>
      <p class={css.clock} role="timer" aria-label={`${Math.ceil(left / 60)} minutes left`}>
        {clockWords(left)}
      </p>
      {left === 0 ? (
        <>
          <p role="alert">{WATCH_WORDS.over}</p>
          <button type="button" class={`primary wide ${css.main}`} onClick={() => finish(watch)}>
            All quiet: write it into the log
          </button>
        </>
      ) : (
        <>
          {due && <p role="alert">{WATCH_WORDS.due}</p>}
          <button
            type="button"
            class={`wide ${css.main} ${due ? 'primary' : ''}`}
            onClick={() => safety.setWatch(checkIn(watch, now()))}
          >
            Looked round ({watch.checkIns.length})
          </button>
          <button type="button" class="wide" onClick={() => safety.setWatch(lengthen(watch, 30))}>
            30 minutes more
          </button>
          <details>
            <summary>End it now</summary>
            <div class="inside">
              <TextField
                label="Reason; it is kept in the log"
                value={reason.value}
                onValue={(value) => {
                  reason.value = value
                }}
              />
              <button
                type="button"
                class="danger"
                disabled={reason.value.trim() === ''}
                onClick={() => {
                  const ended = shorten(watch, now(), reason.value)
                  if (ended) finish(ended)
                }}
              >
                End the watch
              </button>
            </div>
          </details>
        </>
      )}
      <p class="small soft">{alarmWords(new Date(watch.endsAt))}</p>
    </>
  )
}
