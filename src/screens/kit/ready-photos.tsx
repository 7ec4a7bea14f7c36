import { useSignal } from '@preact/signals'
import { useEffect, useMemo } from 'preact/hooks'
import type { ReadyJob } from '../../session/kit/ready-job.ts'
import { createReadyPhotos, type Role, type SortedGroup } from '../../session/kit/ready-photos.ts'
import { CARRIERS } from '../../session/kit/subject.ts'
import { useServices } from '../../session/services.ts'
import { prepareForPhoto } from '../../sources/photo/photo-workers.ts'
import { BalancePicker } from '../../ui/balance-picker.tsx'
import { CardLightPicker } from '../../ui/card-light-picker.tsx'
import { FileButton, PHOTO_TYPES } from '../../ui/file-button.tsx'
import { Notices } from '../../ui/notices.tsx'
import { go } from '../../ui/router.ts'
import { SelectField } from '../../ui/select-field.tsx'
import { say } from '../../ui/spoken.tsx'
import { useSavingInPlace } from '../../ui/use-saving.ts'
import { photoRefusalNotice } from '../../ui/words/photo-refusals.ts'
import { BackHeader } from './back-header.tsx'
import css from './kit.module.css'
import style from './ready.module.css'

const ROLE_WORDS: Record<Role, string> = {
  card: 'Grey card',
  'known heat': 'Table salt, melting',
  sweep: 'A glow, for the tone curve',
  'left out': 'Leave it out',
}
const ROLES = Object.keys(ROLE_WORDS) as Role[]

const OUTCOME_WORDS: Record<NonNullable<SortedGroup['outcome']>, string> = {
  card: 'Card kept.',
  'card, lock held': 'White balance has held: the two cards agree.',
  'known heat': 'Known heat kept.',
  'known heat by one photo':
    'Known heat kept by its best photo: the sweep was refused, so its ± is larger.',
  'known heat, curve open':
    'Known heat kept. The tone curve stays open: sweep again, the first photo just below clipping.',
  curve: 'Tone curve kept.',
  refused: 'Could not be used. Take it again by its own step.',
}

/** Card, salt and sweep given together: sorted here, confirmed, stored. */
export function ReadyPhotos({ job }: { job: ReadyJob }) {
  const { kit, now } = useServices()
  const model = useMemo(() => createReadyPhotos(kit, job), [kit, job])
  useEffect(() => () => model.dispose(), [model])
  const { run, busy, failure } = useSavingInPlace()
  const all = useSignal(false)
  const groups = model.groups.value
  const has = (role: Role) => groups.some((one) => one.role === role)
  const lock = job.lock()
  if (lock?.kind === 'locked' && model.balanceState.value.kind === 'unknown') {
    model.balanceState.value = lock.state
  }
  const { kind } = model.balanceState.value
  const locked = kind === 'daylight' || kind === 'lamp' || kind === 'locked'
  const complete = locked && (!has('known heat') || model.materialId.value !== '')
  const done = groups.some(({ outcome }) => outcome !== null) && model.progress.value === null
  const store = () =>
    run(async (log) => {
      all.value = await model.store(log, now())
      if (!all.value) return
      say('Everything is kept for this camera.')
      go('kit', 'ready')
    })
  return (
    <main class={`screen ${css.kit}`}>
      <BackHeader to="/kit/ready" title="All photos at once" />
      {groups.length === 0 && (
        <p class="soft">
          The card, the salt and the sweep, all with the same lock and lens. The card once more at
          the end shows that the lock holds.
        </p>
      )}
      {model.progress.value !== null && (
        <progress aria-label="Looking at the photos" value={model.progress.value} />
      )}
      <Notices
        notices={model.failed.value.flatMap((refusal) => photoRefusalNotice(refusal) ?? [])}
      />
      <ul class={style.groups}>
        {groups.map((one, at) => (
          <li key={one.group.photos[0]?.name} class="card stack">
            <SelectField
              label={
                one.group.photos.length === 1
                  ? (one.group.photos[0]?.name ?? '')
                  : `${one.group.photos.length} photos, ${one.group.photos[0]?.name} to ${one.group.photos.at(-1)?.name}`
              }
              of={ROLES.map((role) => [role, ROLE_WORDS[role]])}
              value={one.role}
              onValue={(role) => model.setRole(at, role)}
            />
            {!one.group.sure && <p class="small soft">Not sure: say what it is.</p>}
            {one.outcome && <p>{OUTCOME_WORDS[one.outcome]}</p>}
          </li>
        ))}
      </ul>
      {groups.length > 0 && (
        <div class="stack">
          <BalancePicker
            state={model.balanceState.value}
            onState={(state) => {
              model.balanceState.value = state
            }}
          />
          {has('card') && (
            <CardLightPicker
              light={model.cardLight.value}
              onLight={(light) => {
                model.cardLight.value = light
              }}
            />
          )}
          {has('known heat') && (
            <SelectField
              label="Surface beside the salt"
              of={[
                ...(model.materialId.value === '' ? [['', 'Choose the surface'] as const] : []),
                ...CARRIERS.map(({ id, name }) => [id as string, name] as const),
              ]}
              value={model.materialId.value}
              onValue={(id) => {
                model.materialId.value = id
              }}
            />
          )}
        </div>
      )}
      <div class="dock stack">
        {failure.value && (
          <p role="alert" class="failure">
            {failure.value}
          </p>
        )}
        {groups.length > 0 && !complete && (
          <p class="soft">Say how white balance was locked and which surface the salt lay on.</p>
        )}
        <div class="row">
          <div class="grow">
            <FileButton
              primary={groups.length === 0}
              multiple
              accept={PHOTO_TYPES}
              onAsk={prepareForPhoto}
              onFiles={(files) => void model.add(files)}
            >
              {groups.length === 0 ? 'Open the photos' : 'Add photos'}
            </FileButton>
          </div>
          {groups.length > 0 && (
            <button
              type="button"
              class="primary grow"
              disabled={!complete || busy.value || done}
              onClick={() => void store()}
            >
              {busy.value ? 'Keeping …' : 'Keep all'}
            </button>
          )}
        </div>
      </div>
    </main>
  )
}
