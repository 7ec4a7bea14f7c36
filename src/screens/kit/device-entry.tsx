import { useSignal } from '@preact/signals'
import { useEffect } from 'preact/hooks'
import type { CameraPrediction } from '../../session/kit/camera-prediction.ts'
import { type CameraProfile, piecesOf, profileOf } from '../../session/kit/camera-profile.ts'
import { camerasOf } from '../../session/kit/cameras.ts'
import { SHOWN_AT_K } from '../../session/kit/capture-model.ts'
import { STEPS_OF_WAY, wayOf } from '../../session/kit/ready-way.ts'
import { predictionOf } from '../../session/kit/stored-prediction.ts'
import type { StateSurvey } from '../../session/kit/survey.ts'
import { useServices } from '../../session/services.ts'
import { showPlusMinus, showTemperature } from '../../ui/temperature.ts'
import { balanceWords } from '../../ui/words/balance.ts'
import { showDay } from '../../ui/words/dates.ts'
import { surfaceName } from '../../ui/words/log.ts'
import { STEP_WORDS } from '../../ui/words/ready.ts'
import { CameraEntry } from './camera-entry.tsx'
import { ExposurePanel } from './exposure-panel.tsx'
import { FlatFields } from './flat-field.tsx'
import { InfraredTest } from './infrared-test.tsx'
import css from './kit.module.css'

/** One device: what is known of it, since when, when it is due again; its states behind it. */
export function DeviceEntry({
  device,
  surveys,
}: {
  device: string
  surveys: ReadonlyMap<string, StateSurvey>
}) {
  const { kit, now } = useServices()
  const profile = profileOf(device, kit)
  const pieces = piecesOf(profile, now())
  const { lock, usual } = profile.stored?.data ?? {}
  const steps = STEPS_OF_WAY[wayOf(lock)]
  return (
    <li class={`card stack ${css.camera}`}>
      <div>
        <strong>{profile.stored?.item.name ?? device}</strong>
        <p class="small soft">
          <Prediction profile={profile} />
        </p>
      </div>
      <dl class="facts">
        {steps.map((step) => {
          const piece = pieces[step]
          return (
            <>
              <dt key={step}>{STEP_WORDS[step].name}</dt>
              <dd>
                {step === 'lock' && lock?.kind === 'locked' && `${balanceWords(lock.state)}, `}
                {step === 'lock' && lock?.kind === 'cannot be locked' && 'cannot be locked, '}
                {piece ? (
                  <>
                    {showDay(piece.since)}
                    <span class="small soft">
                      {piece.due
                        ? ', check again now'
                        : `, check again ${showDay(piece.checkAgain)}`}
                    </span>
                  </>
                ) : (
                  'not yet'
                )}
              </dd>
            </>
          )
        })}
        {usual && usual.materialId !== '' && (
          <>
            <dt>Usual</dt>
            <dd>{[usual.object, surfaceName(usual.materialId)].filter(Boolean).join(', ')}</dd>
          </>
        )}
      </dl>
      <InfraredTest
        device={device}
        tests={profile.stored?.data.leakTests ?? []}
        lock={lock?.kind === 'locked' ? lock.state : undefined}
      />
      <ExposurePanel
        device={device}
        exposures={profile.stored?.data.exposures ?? []}
        since={profile.stored?.data.exposuresAt ?? ''}
      />
      <FlatFields device={device} fields={profile.stored?.data.flatFields ?? []} />
      <States profile={profile} surveys={surveys} />
      <a class="button wide" href="/kit/ready">
        {steps.every((step) => pieces[step]) ? 'Check it again' : 'Make this camera ready'}
      </a>
    </li>
  )
}

/** Photo, raw and live of one device: each with its own known heats. */
function States({
  profile,
  surveys,
}: {
  profile: CameraProfile
  surveys: ReadonlyMap<string, StateSurvey>
}) {
  const cameras = camerasOf(profile.heats, [])
  return (
    <>
      {cameras.map((camera) => (
        <CameraEntry key={camera.id} camera={camera} device={profile.device} surveys={surveys} />
      ))}
    </>
  )
}

function Prediction({ profile }: { profile: CameraProfile }) {
  const { now } = useServices()
  const prediction = useSignal<CameraPrediction | null>(null)
  const key = JSON.stringify([
    profile.stored?.data,
    profile.greys.length,
    profile.heats.map(({ item, off }) => [item.id, off]),
    profile.curves.length,
  ])
  useEffect(() => {
    const stop = new AbortController()
    predictionOf(profile, now(), stop.signal).then(
      (found) => {
        if (found) prediction.value = found
      },
      () => undefined,
    )
    return () => stop.abort()
  }, [key])
  const found = prediction.value
  if (found?.nowK == null) return <>Photos and readings of it are kept together.</>
  const at = showTemperature(SHOWN_AT_K)
  return (
    <>
      A photo is worth {showPlusMinus(found.nowK)} at {at}
      {found.next && found.readyK !== null && `; ready: ${showPlusMinus(found.readyK)}`}.
    </>
  )
}
