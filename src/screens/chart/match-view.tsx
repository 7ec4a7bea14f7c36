import type { ChartModel } from '../../session/chart/chart-model.ts'
import type { Beside, MatchModel } from '../../session/chart/match-model.ts'
import type { LiveBeside } from '../../session/live/live-beside.ts'
import type { HeldCamera } from '../../session/live/use-camera.ts'
import { openCamera } from '../../sources/live/open-camera.ts'
import { openPracticeCamera } from '../../sources/live/practice-camera.ts'
import { Notices } from '../../ui/notices.tsx'
import { LIVE_REFUSALS, LOCK_STATES } from '../../ui/words/live.ts'
import { lookSentence } from '../../ui/words/look.ts'
import { GLANCE, LIVE_BALANCE_FREE, MATCH_STEPS } from '../../ui/words/match.ts'
import { BesidePicture } from './beside-picture.tsx'
import css from './chart.module.css'
import { MatchResult } from './match-result.tsx'
import { MatchStrip, StripPatch, StripPlace } from './match-strip.tsx'
import { moveCursor } from './scale-hands.ts'

const FINE_K = 5

/** All of a match on one screen without scrolling: picture, swatch, strip and the button. */
export function MatchView({
  model,
  match,
  beside,
  camera,
}: {
  model: ChartModel
  match: MatchModel
  beside: Beside
  camera: HeldCamera<LiveBeside>
}) {
  const { title, todo } = MATCH_STEPS[match.step.value]
  const close = () => {
    match.close()
    camera.close()
  }
  const head = (
    <header>
      <h1>{title}</h1>
      {match.simulated.value && <span class="tag">Simulated</span>}
      <button type="button" onClick={close}>
        {match.step.value === 'done' ? 'Close' : 'Stop'}
      </button>
    </header>
  )
  if (match.step.value === 'done')
    return (
      <main class={`screen ${css.chart}`}>
        {head}
        <MatchResult match={match} onDone={close} />
      </main>
    )
  return (
    <main class={`screen ${css.chart} ${css.match}`}>
      {head}
      <p class={css.matchTodo}>{todo}</p>
      <div
        class={beside.kind === 'piece' ? css.matchBeside : `${css.matchBeside} ${css.withPicture}`}
      >
        {beside.kind === 'photo' && <BesidePicture beside={beside} level={model.looks.level} />}
        {beside.kind === 'live' &&
          (camera.use.value ? (
            <BesidePicture beside={beside} level={model.looks.level} />
          ) : (
            <CameraGone camera={camera} practice={beside.live.camera.kind === 'practice'} />
          ))}
        <StripPatch model={model} />
      </div>
      <MatchStrip model={model} />
      <div class={`${css.matchNotes} small`}>
        {beside.kind === 'live' && <Balance live={beside.live} />}
        {beside.kind === 'piece' ? <p class="soft">{GLANCE}</p> : <LookLine model={model} />}
      </div>
      <div class={css.matchAgree}>
        <button type="button" aria-label="Colder" onClick={() => moveCursor(model, -FINE_K)}>
          −
        </button>
        <StripPlace model={model} />
        <button type="button" aria-label="Hotter" onClick={() => moveCursor(model, FINE_K)}>
          +
        </button>
        <button type="button" class={css.agree} onClick={match.agree}>
          They agree
        </button>
      </div>
    </main>
  )
}

function CameraGone({ camera, practice }: { camera: HeldCamera<LiveBeside>; practice: boolean }) {
  const refusal = camera.refusal.value
  return (
    <div class={`${css.besidePicture} ${css.gone}`}>
      <div role="alert">{refusal && <Notices notices={[LIVE_REFUSALS[refusal]]} />}</div>
      <button
        type="button"
        disabled={camera.opening.value}
        onClick={() => void camera.begin(practice ? openPracticeCamera : openCamera)}
      >
        Start again
      </button>
    </div>
  )
}

function Balance({ live }: { live: LiveBeside }) {
  const locks = live.locks.value
  if (!locks) return null
  if (locks.whiteBalance !== 'locked') return <Notices notices={[LIVE_BALANCE_FREE]} />
  const kelvin = locks.colourTemperatureK
  return (
    <p class="soft">
      White balance {LOCK_STATES.locked}
      {kelvin ? ` on ${kelvin} K` : ''}.
    </p>
  )
}

function LookLine({ model }: { model: ChartModel }) {
  const look = model.looks.look.value
  return (
    <p class="soft">
      {model.looks.working.value || !look ? 'Working out the camera …' : lookSentence(look)}
    </p>
  )
}
