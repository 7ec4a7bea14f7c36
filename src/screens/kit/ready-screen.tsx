import { useEffect, useMemo } from 'preact/hooks'
import { STEP_IDS, type StepId } from '../../session/kit/camera-data.ts'
import type { CameraPrediction } from '../../session/kit/camera-prediction.ts'
import { devicesOf } from '../../session/kit/camera-profile.ts'
import { captureForReady } from '../../session/kit/capture-draft.ts'
import { SHOWN_AT_K } from '../../session/kit/capture-model.ts'
import { createReadyJob, type ReadyJob } from '../../session/kit/ready-job.ts'
import { STEPS_OF_WAY } from '../../session/kit/ready-way.ts'
import { heatById } from '../../session/kit/subject.ts'
import { useServices } from '../../session/services.ts'
import { go } from '../../ui/router.ts'
import { SelectField } from '../../ui/select-field.tsx'
import { showPlusMinus, showTemperature } from '../../ui/temperature.ts'
import { showDay } from '../../ui/words/dates.ts'
import { READY_WORDS, STEP_WORDS } from '../../ui/words/ready.ts'
import { BackHeader } from './back-header.tsx'
import css from './kit.module.css'
import style from './ready.module.css'
import { ReadyPhotos } from './ready-photos.tsx'
import { ReadyStep } from './ready-step.tsx'

const isStep = (text: string): text is StepId => STEP_IDS.some((step) => step === text)

/** The guided job: an overview, a screen for each step, and one for all photos at once. */
export function ReadyScreen({ part, detail }: { part: string; detail: string }) {
  const { kit, now } = useServices()
  const job = useMemo(() => createReadyJob(kit, now), [kit, now])
  useEffect(() => () => job.dispose(), [job])
  if (isStep(part)) return <ReadyStep key={part} job={job} step={part} detail={detail} />
  if (part === 'photos') return <ReadyPhotos job={job} />
  return <Overview job={job} />
}

function Overview({ job }: { job: ReadyJob }) {
  const { kit } = useServices()
  const devices = devicesOf(kit)
  const pieces = job.pieces.value
  const prediction = job.prediction.value
  const skipped = job.profile.value.stored?.data.skipped ?? []
  const steps = STEPS_OF_WAY[job.way.value]
  const next = steps.find((step) => !pieces[step] && !skipped.includes(step))
  const at = showTemperature(SHOWN_AT_K)
  return (
    <main class={`screen ${css.kit}`}>
      <BackHeader to="/kit" title={READY_WORDS.title} />
      {devices.length > 1 ? (
        <SelectField
          label="Camera"
          of={devices.map((device) => [device, device])}
          value={job.device.value}
          onValue={(device) => {
            job.device.value = device
          }}
        />
      ) : (
        job.device.value !== '' && <p class={style.device}>{job.device.value}</p>
      )}
      <p class="soft">{READY_WORDS.lead}</p>
      <p class="figure" aria-live="polite">
        {prediction ? predicted(prediction, at) : 'Working it out …'}
      </p>
      <ol class={style.steps}>
        {steps.map((step) => {
          const piece = pieces[step]
          return (
            <li key={step}>
              <a class={`button wide ${style.step}`} href={`/kit/ready/${step}`}>
                <strong>{STEP_WORDS[step].name}</strong>
                <span class="small soft">
                  {piece
                    ? `${showDay(piece.since)}${piece.due ? ', check again' : ''}`
                    : skipped.includes(step)
                      ? 'skipped'
                      : STEP_WORDS[step].time}
                </span>
                <span aria-hidden="true">{piece ? '✓' : '›'}</span>
              </a>
            </li>
          )
        })}
      </ol>
      <a class="button wide" href="/kit/ready/photos">
        <span class={style.two}>
          {READY_WORDS.allAtOnce}
          <span class="small soft">{READY_WORDS.allAtOnceLine}</span>
        </span>
      </a>
      <div class={`dock ${style.ends}`}>
        {next ? (
          <button type="button" class="primary wide" onClick={() => go('kit', `ready/${next}`)}>
            {STEP_WORDS[next].doing}
          </button>
        ) : (
          <>
            {prediction?.second && <SecondHeat second={prediction.second} />}
            <a class="button primary wide" href="/">
              {READY_WORDS.done} Read a glow
            </a>
          </>
        )}
      </div>
    </main>
  )
}

/** What readings would come to; a photo may have no figure before a step is done. */
function predicted({ nowK, readyK }: CameraPrediction, at: string): string {
  if (readyK === null) return 'No figure yet.'
  const ready = `ready: ${showPlusMinus(readyK)}.`
  if (nowK === readyK) return `${showPlusMinus(nowK)} at ${at}.`
  return nowK === null
    ? `At ${at} no figure now; ${ready}`
    : `${showPlusMinus(nowK)} at ${at} now; ${ready}`
}

/** A ready camera gains most by a second melt: how much is said. */
function SecondHeat({ second }: { second: NonNullable<CameraPrediction['second']> }) {
  return (
    <a
      class="button wide"
      href={`/kit/known-heat/${second.heat}`}
      onClick={() => {
        captureForReady.value = true
      }}
    >
      <span class={style.two}>
        Second known heat: {heatById(second.heat)?.name}
        <span class="small soft">
          {showPlusMinus(second.withK)} at {showTemperature(SHOWN_AT_K)}
        </span>
      </span>
    </a>
  )
}
