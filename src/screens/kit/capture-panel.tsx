import { useSignal } from '@preact/signals'
import type { ComponentChildren } from 'preact'
import { rememberLock } from '../../session/kit/camera-store.ts'
import { discardCapture } from '../../session/kit/capture-draft.ts'
import type { CaptureModel } from '../../session/kit/capture-model.ts'
import { cardOfReading, storeCard } from '../../session/kit/store-card.ts'
import { storeFoundCurve } from '../../session/kit/store-curve.ts'
import { CARRIERS, subjectName } from '../../session/kit/subject.ts'
import { useServices } from '../../session/services.ts'
import { BalancePicker } from '../../ui/balance-picker.tsx'
import { Notices } from '../../ui/notices.tsx'
import bench from '../../ui/photo/bench.module.css'
import { GreyPanel } from '../../ui/photo/grey-panel.tsx'
import { Stage } from '../../ui/photo/stage.tsx'
import { StoredCurveChoice, StoredCurveNotice } from '../../ui/photo/stored-curve-choice.tsx'
import { SweepPanel, SweepRefusalPanel } from '../../ui/photo/sweep-panel.tsx'
import { go } from '../../ui/router.ts'
import { SelectField } from '../../ui/select-field.tsx'
import { askToKeep } from '../../ui/settings.ts'
import { say } from '../../ui/spoken.tsx'
import { TextField } from '../../ui/text-field.tsx'
import { useLayer } from '../../ui/use-layer.ts'
import { useSavingInPlace } from '../../ui/use-saving.ts'
import { useTyped } from '../../ui/use-typed.ts'
import { noticeFromMeasurement } from '../../ui/words/glow-findings.ts'
import { OBSTACLE_WORDS } from '../../ui/words/kit.ts'
import { PRACTICE_LABEL } from '../../ui/words/measurement.ts'
import { photoRefusalNotice } from '../../ui/words/photo-refusals.ts'
import { BackHeader } from './back-header.tsx'
import { BenefitPanel } from './benefit-panel.tsx'
import css from './kit.module.css'
import { putPhotoAway } from './put-photo-away.ts'

/** The photo of something known: place the region, say how it was taken, see what it is worth. */
export function CapturePanel({
  capture,
  title,
  back,
  after,
  onStored,
  children,
}: {
  capture: CaptureModel
  title: string
  back: string
  /** Where to go when it was kept, as an address. */
  after: string
  onStored?: () => void
  children: ComponentChildren
}) {
  const { kit, now } = useServices()
  const { reading } = capture
  const placing = useSignal<'glow' | 'card'>('glow')
  const name = useTyped('heat name')
  const { busy, failure, run } = useSavingInPlace()
  const subject = capture.subject.value
  const choices = reading.choices.value
  const measured = reading.measurement.value
  const obstacle = OBSTACLE_WORDS[capture.obstacle.value ?? 'no photo']
  const otherRefusal = photoRefusalNotice(reading.other.refusal.value)
  const notices = [
    ...(obstacle ? [obstacle] : []),
    ...(measured?.findings ?? []).flatMap((finding) => noticeFromMeasurement(finding) ?? []),
  ]
  const keep = () =>
    run(async (log) => {
      const item = capture.item(name.value.trim() || subjectName(subject), now())
      if (!item) return
      await log.kit.add(item)
      // The card kept with a known heat is the card of the readings after it.
      await storeCard(log, cardOfReading(reading), kit.greys.peek(), '', now())
      await storeFoundCurve(log, reading, now())
      const facts = reading.glow.photo.peek()?.facts
      if (facts && reading.device.peek() !== '') {
        const { balanceState } = reading.input.peek() ?? choices
        await rememberLock(log, reading.device.peek(), facts, balanceState, now())
      }
      discardCapture()
      onStored?.()
      go('kit', after.replace(/^\/kit\/?/, ''))
      say('Kept in the kit.')
      void askToKeep(log)
    })
  useLayer(true, () => void putPhotoAway(kit, true))
  return (
    <main class={`screen ${css.kit}`}>
      <BackHeader to={back} title={title}>
        {reading.simulatedTruthK.value !== null && <span class="tag">{PRACTICE_LABEL}</span>}
      </BackHeader>
      <div class={bench.bench}>
        <div class={bench.left}>
          <Stage model={reading} placing={placing} />
          {otherRefusal && <Notices notices={[otherRefusal]} />}
          <Notices notices={notices} />
        </div>
        <div class={bench.right}>
          <BenefitPanel capture={capture} />
          <div class="stack">
            {reading.sweep.value && (
              <SweepRefusalPanel model={reading} sweep={reading.sweep.value} />
            )}
            {reading.sweep.value && <SweepPanel model={reading} sweep={reading.sweep.value} />}
            <h2>What it is, how it was taken</h2>
            {children}
            <BalancePicker
              state={choices.balanceState}
              held={reading.stored.value?.heldSince !== undefined}
              onState={(balanceState) => {
                reading.choices.value = { ...choices, balanceState }
              }}
            />
            <StoredCurveChoice model={reading} />
            <StoredCurveNotice model={reading} />
            <GreyPanel model={reading} placing={placing} kept={kit.greys.value} />
            {subject.kind === 'known heat' && (
              <SelectField
                label="Surface that is read"
                of={[
                  ...(choices.materialId === '' ? [['', 'Choose the surface'] as const] : []),
                  ...CARRIERS.map(({ id, name: carrier }) => [id as string, carrier] as const),
                ]}
                value={choices.materialId}
                onValue={(materialId) => {
                  reading.choices.value = { ...choices, materialId }
                }}
              />
            )}
            <TextField
              label="Name in the kit"
              placeholder={subjectName(subject)}
              value={name.value}
              onValue={(typed) => {
                name.value = typed
              }}
            />
          </div>
        </div>
      </div>
      <div class="dock stack">
        {failure.value && (
          <p role="alert" class="failure">
            {failure.value}
          </p>
        )}
        <div class="row">
          <button
            type="button"
            class="grow"
            // The subject stays for the next try.
            onClick={() => void putPhotoAway(kit, true)}
          >
            Discard
          </button>
          <button
            type="button"
            class="primary grow"
            disabled={capture.obstacle.value !== null || busy.value}
            onClick={() => void keep()}
          >
            {busy.value ? 'Keeping …' : 'Keep in the kit'}
          </button>
        </div>
      </div>
    </main>
  )
}
