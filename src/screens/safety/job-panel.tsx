import { useSignal } from '@preact/signals'
import { newUuid } from '../../log/schema/uuid.ts'
import { isTicked, JOB_KINDS } from '../../session/safety/job.ts'
import { jobRecord } from '../../session/safety/job-record.ts'
import { useServices } from '../../session/services.ts'
import { go } from '../../ui/router.ts'
import { sayFailure } from '../../ui/say-failure.ts'
import { say } from '../../ui/spoken.tsx'
import { TextField } from '../../ui/text-field.tsx'
import { useTyped } from '../../ui/use-typed.ts'
import { JOB_NAMES } from '../../ui/words/safety-names.ts'
import { CLOSING_CHECKS, JOB_CHECKS } from '../../ui/words/safety-statements.data.ts'
import { jobNotes, USUAL_CAUTIONS } from '../../ui/words/safety-work.ts'
import { CheckList } from './check-list.tsx'
import css from './safety.module.css'

/** A job with its checks; without one, the choice of what the work is. */
export function JobPanel() {
  const { safety } = useServices()
  return safety.job.value ? <OpenJobPanel /> : <JobChoice />
}

function JobChoice() {
  const { safety } = useServices()
  return (
    <section class="stack">
      <h2>What is the work?</h2>
      <p class="small soft">Its checks, in order. Tick them by hand; they go into the log.</p>
      <div class={css.jobs}>
        {JOB_KINDS.map((kind) => (
          <button key={kind} type="button" onClick={() => safety.startJob(kind)}>
            {JOB_NAMES[kind]}
          </button>
        ))}
      </div>
    </section>
  )
}

/** Ids kept with a job; a reading is found by its time as well. */
const MOST_READINGS = 500

function OpenJobPanel() {
  const { safety } = useServices()
  const closing = useSignal(false)
  const job = safety.job.value
  if (!job) return null
  const own = safety.ownChecks.value.filter(({ kind }) => kind === job.kind)
  const checks = JOB_CHECKS[job.kind]
  const done = [...checks, ...own].filter(({ id }) => isTicked(job, 'ticked', id)).length
  const write = async () => {
    const readings = job.withReadings ? await safety.readingsSince(job.startedAt) : []
    const { kind, startedAt, ticked, closed } = job
    const record = jobRecord('job', JOB_NAMES[kind], jobNotes(job, own, readings.length), {
      kind,
      startedAt,
      ticked,
      closed,
      readings: readings.slice(0, MOST_READINGS),
    })
    await safety.finish(record, 'job')
  }
  const finish = () => {
    write().then(() => say('In the log.', { label: 'Log', run: () => go('log') }), sayFailure)
  }
  return (
    <section class="stack">
      <h2>
        {JOB_NAMES[job.kind]}: {done} of {checks.length + own.length}
      </h2>
      <details open={done < checks.length + own.length && !closing.value}>
        <summary>Before</summary>
        <div class="inside">
          <CheckList
            checks={checks}
            ticked={(id) => isTicked(job, 'ticked', id)}
            onTick={(id) => safety.tick('ticked', id)}
          >
            {own.map(({ id, text }) => (
              <li key={id}>
                <label class={css.check}>
                  <input
                    type="checkbox"
                    checked={isTicked(job, 'ticked', id)}
                    onChange={() => safety.tick('ticked', id)}
                  />
                  <span>{text}</span>
                </label>
                <button
                  type="button"
                  aria-label={`Remove: ${text}`}
                  onClick={() => safety.removeCheck(id)}
                >
                  ✕
                </button>
              </li>
            ))}
          </CheckList>
          <OwnCheck onAdd={(text) => safety.addCheck(job.kind, text, newUuid())} />
          <label class="choice">
            <input
              type="checkbox"
              checked={job.withReadings}
              onChange={(event) => safety.linkReadings(event.currentTarget.checked)}
            />
            Keep with the readings of this job
          </label>
        </div>
      </details>
      {closing.value ? (
        <>
          <h3>After</h3>
          <CheckList
            checks={CLOSING_CHECKS}
            ticked={(id) => isTicked(job, 'closed', id)}
            onTick={(id) => safety.tick('closed', id)}
          />
          <button type="button" class="primary wide" onClick={finish}>
            Close the job
          </button>
        </>
      ) : (
        <button
          type="button"
          class="wide"
          onClick={() => {
            closing.value = true
          }}
        >
          End of work
        </button>
      )}
      <p class="small soft">{USUAL_CAUTIONS}</p>
    </section>
  )
}

function OwnCheck({ onAdd }: { onAdd: (text: string) => void }) {
  const text = useTyped('own check')
  return (
    <form
      class="row"
      onSubmit={(event) => {
        event.preventDefault()
        if (text.value.trim() === '') return
        onAdd(text.value.trim())
        text.value = ''
      }}
    >
      <TextField
        label="A check of your own"
        value={text.value}
        onValue={(value) => {
          text.value = value
        }}
      />
      <button type="submit" class="at-foot">
        Add
      </button>
    </form>
  )
}
