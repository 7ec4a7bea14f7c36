import type { Camera, CameraState } from '../../session/kit/cameras.ts'
import { SHOWN_AT_K } from '../../session/kit/capture-model.ts'
import type { StateSurvey } from '../../session/kit/survey.ts'
import { LocusPlot } from '../../ui/locus-plot.tsx'
import { showPlusMinus, showTemperature } from '../../ui/temperature.ts'
import { balanceWords } from '../../ui/words/balance.ts'

const count = (n: number, one: string, many: string) => (n === 1 ? `1 ${one}` : `${n} ${many}`)

/** One way to pictures of a device (a lens, the live stream), in each white-balance state. */
export function CameraEntry({
  camera,
  device,
  surveys,
}: {
  camera: Camera
  device: string
  surveys: ReadonlyMap<string, StateSurvey>
}) {
  // What follows the device in the id: the lens, or another video device.
  const part = camera.id.startsWith(`${device} · `) ? camera.id.slice(device.length + 3) : camera.id
  return (
    <>
      {camera.id !== device && <p class="small soft">{part}</p>}
      {camera.states.map((state) => (
        <State key={state.key} state={state} survey={surveys.get(state.key)} />
      ))}
    </>
  )
}

/** Photos of one melt are one melt. */
const events = ({ heats }: CameraState) =>
  new Set(heats.map(({ item, reference }) => reference.group ?? item.id)).size

function State({ state, survey }: { state: CameraState; survey: StateSurvey | undefined }) {
  const raw = state.channels === 'camera' ? 'Raw, ' : 'Photo, '
  return (
    <details>
      <summary>
        <span>
          {raw}
          {balanceWords(state.balanceState)}: {count(events(state), 'known heat', 'known heats')}
          {state.heats.length > events(state) && ` in ${state.heats.length} photos`}
          {survey?.reading && (
            <>
              <br />
              <span class="small soft">
                taken like its latest one: {showPlusMinus(survey.reading.standardUncertaintyK)} at{' '}
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
