import type { Camera, CameraState } from '../../session/kit/cameras.ts'
import { SHOWN_AT_K } from '../../session/kit/capture-model.ts'
import type { StateSurvey } from '../../session/kit/survey.ts'
import { LocusPlot } from '../../ui/locus-plot.tsx'
import { showPlusMinus, showTemperature } from '../../ui/temperature.ts'
import { balanceWords } from '../../ui/words/balance.ts'

const count = (n: number, one: string, many: string) => (n === 1 ? `1 ${one}` : `${n} ${many}`)

/** A camera that the kit has seen, and how well it is known in each white-balance state. */
export function CameraEntry({
  camera,
  surveys,
}: {
  camera: Camera
  surveys: ReadonlyMap<string, StateSurvey>
}) {
  const heats = camera.states.reduce((sum, state) => sum + state.heats.length, 0)
  return (
    <li class="card stack kit-camera">
      <div>
        <strong>{camera.id}</strong>
        <p class="small soft">
          {[
            ...(heats > 0 ? [count(heats, 'known heat', 'known heats')] : []),
            ...(camera.greys > 0 ? [count(camera.greys, 'grey card', 'grey cards')] : []),
          ].join(', ')}
        </p>
      </div>
      {camera.states.map((state) => (
        <State key={state.key} state={state} survey={surveys.get(state.key)} />
      ))}
      {heats === 0 && (
        <p class="small soft">Not tied to a known heat yet: read by what is common to cameras.</p>
      )}
    </li>
  )
}

function State({ state, survey }: { state: CameraState; survey: StateSurvey | undefined }) {
  const raw = state.channels === 'camera' ? 'raw, ' : ''
  return (
    <details>
      <summary>
        <span>
          White balance {raw}
          {balanceWords(state.balanceState)}
          {survey?.reading && (
            <>
              <br />
              <span class="small soft">
                now {showPlusMinus(survey.reading.standardUncertaintyK)} at{' '}
                {showTemperature(SHOWN_AT_K)}
              </span>
            </>
          )}
        </span>
      </summary>
      <div class="inside">
        {survey?.view ? (
          <LocusPlot view={survey.view} />
        ) : (
          <p class="soft">{survey ? 'Its known heats are switched off.' : 'Working it out …'}</p>
        )}
      </div>
    </details>
  )
}
