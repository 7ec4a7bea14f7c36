import { useEffect, useMemo } from 'preact/hooks'
import { devicesOf } from '../../session/kit/camera-profile.ts'
import { captureForReady, openCapture } from '../../session/kit/capture-draft.ts'
import { subjectAddress, subjectName } from '../../session/kit/subject.ts'
import { createSurvey } from '../../session/kit/survey.ts'
import { useServices } from '../../session/services.ts'
import { removeItems } from '../../ui/kit-actions.ts'
import { Notices } from '../../ui/notices.tsx'
import { UnitPicker } from '../../ui/unit-picker.tsx'
import { KIT_WORDS } from '../../ui/words/kit.ts'
import { noticeFromLogError } from '../../ui/words/log-errors.ts'
import { READY_WORDS } from '../../ui/words/ready.ts'
import { STORED_CURVE } from '../../ui/words/stored-curve.ts'
import { CurveEntry } from './curve-entry.tsx'
import { DeviceEntry } from './device-entry.tsx'
import { GreyEntry } from './grey-entry.tsx'
import { HeatEntry } from './heat-entry.tsx'
import css from './kit.module.css'
import { KitFiles } from './kit-files.tsx'
import { LampEntry } from './lamp-entry.tsx'
import { putPhotoAway } from './put-photo-away.ts'
import { ResponseEntry } from './response-entry.tsx'
import { KitStorageSection } from './storage-section.tsx'

/** Everything that ties this person's cameras to something known. */
export function KitOverview() {
  const { kit, now } = useServices()
  const survey = useMemo(() => createSurvey(kit, now), [kit, now])
  useEffect(() => () => survey.dispose(), [survey])
  useEffect(() => {
    captureForReady.value = false
  }, [])
  const heats = kit.heats.value
  const greys = kit.greys.value
  const lamps = kit.lamps.value
  const curves = kit.curves.value
  const responses = kit.responses.value
  const devices = devicesOf(kit)
  const items = new Map(kit.items.value.map((item) => [item.id, item]))
  const state = kit.state.value
  const failed = typeof state === 'object' ? state.failed : null
  return (
    <main class={`screen ${css.kit}`} aria-busy={state === 'reading'}>
      <header>
        <h1>Kit</h1>
      </header>
      {failed !== null && <Notices notices={[noticeFromLogError(failed)]} />}
      <OpenDrafts />
      {devices.length === 0 && <p class="card">{KIT_WORDS.empty}</p>}
      {devices.length === 0 && (
        <a class="button primary wide" href="/kit/ready">
          {READY_WORDS.title}
        </a>
      )}
      <div class={`row ${css.adds}`}>
        <a class={`button ${devices.length > 0 ? 'primary' : ''}`} href="/kit/known-heat">
          Add known heat
        </a>
        <a class="button grow" href="/kit/lamp">
          Add lamp
        </a>
      </div>
      <div class={css.columns}>
        <div class="stack">
          {devices.length > 0 && (
            <section class="stack" aria-labelledby="kit-cameras">
              <h2 id="kit-cameras">Cameras</h2>
              <ul class={css.list}>
                {devices.map((device) => (
                  <DeviceEntry key={device} device={device} surveys={survey.states.value} />
                ))}
              </ul>
            </section>
          )}
          <section class="stack" aria-labelledby="kit-heats">
            <h2 id="kit-heats">Known heats</h2>
            {heats.length === 0 && <p class="soft">{KIT_WORDS.emptyHeats}</p>}
            <ul class={css.list}>
              {heats.map((heat) => (
                <HeatEntry
                  key={heat.item.id}
                  heat={heat}
                  survey={survey.heats.value.get(heat.item.id)}
                />
              ))}
            </ul>
          </section>
        </div>
        <div class="stack">
          <section class="stack" aria-labelledby="kit-greys">
            <h2 id="kit-greys">Grey cards</h2>
            {greys.length === 0 && <p class="soft">{KIT_WORDS.emptyGreys}</p>}
            <ul class={css.list}>
              {greys.map((grey) => {
                const item = items.get(grey.id)
                return item ? <GreyEntry key={grey.id} grey={grey} item={item} /> : null
              })}
            </ul>
          </section>
          <section class="stack" aria-labelledby="kit-lamps">
            <h2 id="kit-lamps">Lamps</h2>
            {lamps.length === 0 && <p class="soft">{KIT_WORDS.emptyLamps}</p>}
            <ul class={css.list}>
              {lamps.map((kept) => (
                <LampEntry
                  key={kept.item.id}
                  kept={kept}
                  photos={heats.filter(({ reference }) => reference.group === kept.item.id).length}
                />
              ))}
            </ul>
          </section>
          {curves.length + kit.earlierCurves.value.length > 0 && (
            <section class="stack" aria-labelledby="kit-curves">
              <h2 id="kit-curves">Tone curves</h2>
              <EarlierCurves />
              <ul class={css.list}>
                {curves.map((curve) => {
                  const item = items.get(curve.id)
                  return item ? <CurveEntry key={curve.id} kept={curve} item={item} /> : null
                })}
              </ul>
            </section>
          )}
          {responses.length > 0 && (
            <section class="stack" aria-labelledby="kit-responses">
              <h2 id="kit-responses">Spectrometers</h2>
              <ul class={css.list}>
                {responses.map((kept) => (
                  <ResponseEntry key={kept.item.id} kept={kept} />
                ))}
              </ul>
            </section>
          )}
          <Unreadable />
          <section class="stack" aria-labelledby="kit-settings">
            <h2 id="kit-settings">Settings</h2>
            <UnitPicker />
            <KitStorageSection />
            <KitFiles />
            <a class="button wide" href="/third-party.txt" target="_blank" rel="noopener">
              {KIT_WORDS.thirdParties}
            </a>
          </section>
        </div>
      </div>
    </main>
  )
}

/** A photo that was taken up and not yet kept. */
function OpenDrafts() {
  const { kit } = useServices()
  const capture = openCapture.value
  if (!capture?.reading.glow.photo.value) return null
  const subject = capture.subject.value
  return (
    <div class="card stack">
      <p>
        A photo is in hand: <strong>{subjectName(subject)}</strong>.
      </p>
      <div class="row">
        <a class="button primary grow" href={`/kit/${subjectAddress(subject)}`}>
          Go on
        </a>
        <button type="button" class="grow" onClick={() => void putPhotoAway(kit, false)}>
          Discard
        </button>
      </div>
    </div>
  )
}

/** Tone curves that an earlier version kept: only to be deleted. */
function EarlierCurves() {
  const { kit, log } = useServices()
  return (
    <>
      {kit.earlierCurves.value.map(({ id, name }) => (
        <div key={id} class="stack">
          <Notices notices={[STORED_CURVE.earlierVersion(name)]} />
          <button
            type="button"
            class="danger"
            onClick={() => void removeItems(log, [id], `${name} deleted.`)}
          >
            Delete
          </button>
        </div>
      ))}
    </>
  )
}

function Unreadable() {
  const { kit, log } = useServices()
  const unreadable = kit.unreadable.value
  if (unreadable.length === 0) return null
  return (
    <>
      <Notices notices={[KIT_WORDS.damaged(unreadable.length)]} />
      <ul class="plain-list stack">
        {unreadable.map(({ id, name, where }) => (
          <li key={id} class="card stack">
            <strong>{name}</strong>
            <p class="small soft">{KIT_WORDS.whatIsWrong(where)}</p>
            <button
              type="button"
              class="danger"
              onClick={() => void removeItems(log, [id], `${name} deleted.`)}
            >
              Delete
            </button>
          </li>
        ))}
      </ul>
    </>
  )
}
