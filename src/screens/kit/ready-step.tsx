import type { ComponentChildren } from 'preact'
import { useEffect } from 'preact/hooks'
import type { StepId } from '../../session/kit/camera-data.ts'
import { captureForReady } from '../../session/kit/capture-draft.ts'
import { SHOWN_AT_K } from '../../session/kit/capture-model.ts'
import type { ReadyJob } from '../../session/kit/ready-job.ts'
import { STEPS_OF_WAY } from '../../session/kit/ready-way.ts'
import { heatById, isFixedPointId } from '../../session/kit/subject.ts'
import { GlossaryTerm } from '../../ui/glossary-term.tsx'
import { ReadyDrawing } from '../../ui/ready-drawings.tsx'
import { go } from '../../ui/router.ts'
import { showPlusMinus, showTemperature } from '../../ui/temperature.ts'
import { useSaving } from '../../ui/use-saving.ts'
import { showDay } from '../../ui/words/dates.ts'
import { STEP_WORDS } from '../../ui/words/ready.ts'
import { CARD_WORDS } from '../../ui/words/ready-cards.ts'
import { BackHeader } from './back-header.tsx'
import { CardStep } from './card-step.tsx'
import css from './kit.module.css'
import { LockStep } from './lock-step.tsx'
import style from './ready.module.css'
import { SweepStep } from './sweep-step.tsx'

/** One step: how it is set up, what it takes, what it brings, and doing it. */
export function ReadyStep({ job, step, detail }: { job: ReadyJob; step: StepId; detail: string }) {
  const { run } = useSaving()
  const way = job.way.value
  const steps = STEPS_OF_WAY[way]
  const words = step === 'card' ? CARD_WORDS[way] : STEP_WORDS[step]
  const on = () => {
    // The answer to the first step decides which are left.
    const left = STEPS_OF_WAY[job.way.peek()]
    const next = left[left.indexOf(step) + 1]
    go('kit', next ? `ready/${next}` : 'ready')
  }
  const skip = () =>
    run(async (log) => {
      await job.skip(log, step)
      on()
    })
  const piece = job.pieces.value[step]
  return (
    <main class={`screen ${css.kit}`}>
      <BackHeader
        to="/kit/ready"
        title={`${steps.indexOf(step) + 1} of ${steps.length}: ${words.name}`}
      />
      <div class={style.columns}>
        <div class="stack">
          <ReadyDrawing
            step={step === 'card' && way === 'card in picture' ? 'card beside' : step}
          />
          <dl class={style.facts}>
            <Fact name="Takes">{words.time}</Fact>
            <Fact name={`± at ${showTemperature(SHOWN_AT_K)}`}>
              <Brings job={job} step={step} />
            </Fact>
            <Fact name="Needs">{words.needs}</Fact>
            {piece && (
              <Fact name="Done">
                {showDay(piece.since)}, check again {showDay(piece.checkAgain)}
              </Fact>
            )}
          </dl>
          <ol class={css.steps}>
            {words.lines.map((line) => (
              <li key={line}>{line}</li>
            ))}
          </ol>
          {step === 'sweep' && (
            <p class="small soft">
              Words: <GlossaryTerm of="stop">stop</GlossaryTerm>,{' '}
              <GlossaryTerm of="clipped">clipped</GlossaryTerm>,{' '}
              <GlossaryTerm of="tone curve">tone curve</GlossaryTerm>.
            </p>
          )}
        </div>
        <div class="stack">
          {step === 'lock' && <LockStep job={job} onDone={on} />}
          {step === 'card' && <CardStep job={job} onDone={on} />}
          {step === 'sweep' && <SweepStep job={job} onDone={on} />}
          {step === 'heat' && <HeatStep detail={detail} />}
          <div class="row tight">
            <button type="button" class="plain grow" onClick={() => void skip()}>
              Skip
            </button>
            <a class="button plain grow" href="/kit/ready">
              Later
            </a>
          </div>
        </div>
      </div>
    </main>
  )
}

function Fact({ name, children }: { name: string; children: ComponentChildren }) {
  return (
    <div>
      <dt>{name}</dt>
      <dd>{children}</dd>
    </div>
  )
}

/** The ± before and after, from the estimate's own prediction. */
function Brings({ job, step }: { job: ReadyJob; step: StepId }) {
  const prediction = job.prediction.value
  if (!prediction) return <>Working it out …</>
  const after = prediction.withK[step]
  if (prediction.nowK === null) return <>no figure yet</>
  return (
    <span class="figure">
      {showPlusMinus(prediction.nowK)}
      {after !== undefined && <> → {showPlusMinus(after)}</>}
    </span>
  )
}

function HeatStep({ detail }: { detail: string }) {
  useEffect(() => {
    captureForReady.value = true
  }, [])
  const id = isFixedPointId(detail) ? detail : 'sodium-chloride'
  return (
    <>
      <a class="button primary wide" href={`/kit/known-heat/${id}`}>
        {`${heatById(id)?.name}: cautions and photo`}
      </a>
      <a class="button wide" href="/kit/known-heat">
        Another known heat
      </a>
    </>
  )
}
