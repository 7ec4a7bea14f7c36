import { useSignal } from '@preact/signals'
import { useEffect } from 'preact/hooks'
import { deviceZone, momentOf } from '../../log/schema/moment.ts'
import type { Log } from '../../log/schema/types.ts'
import { profileOf } from '../../session/kit/camera-profile.ts'
import { changeCamera, rememberLock } from '../../session/kit/camera-store.ts'
import { cardOfReading, storeCard } from '../../session/kit/store-card.ts'
import { storeFoundCurve } from '../../session/kit/store-curve.ts'
import { placeIn } from '../../session/reading/find-card.ts'
import { saysNothing } from '../../session/reading/next-step.ts'
import { recordToSave } from '../../session/reading/open-record.ts'
import { takenAtOf } from '../../session/reading/photo-meaning.ts'
import type { ReadingModel } from '../../session/reading/reading-model-type.ts'
import { useServices } from '../../session/services.ts'
import { storeText } from '../../session/stored-text.ts'
import { MaterialPicker, UNSTATED } from '../../ui/material-picker.tsx'
import { useSurfaceOfObject } from '../../ui/object-surface.ts'
import { SaveDock } from '../../ui/save-dock.tsx'
import { sayFailure } from '../../ui/say-failure.ts'
import { SelectField } from '../../ui/select-field.tsx'
import { useTyped } from '../../ui/use-typed.ts'
import { showMoment } from '../../ui/words/dates.ts'

/** Saves the reading with a small picture of its region. */
export function SavePanel({ model }: { model: ReadingModel }) {
  const { kit, now } = useServices()
  const { object } = model
  const notes = useTyped('reading notes')
  useEffect(() => storeText('reading object', object), [object])
  const dated = useSignal<'photo' | 'now'>('photo')
  const estimate = model.estimate.value
  const measurement = model.measurement.value
  const photo = model.glow.photo.value
  const unsaid = () => model.choices.peek().materialId === UNSTATED
  useSurfaceOfObject(object, unsaid, (found) => {
    model.choices.value = { ...model.choices.peek(), ...found }
  })
  if (!photo) return null
  /** What was found and said on the way stays with the camera. */
  const remember = async (opened: Log) => {
    const device = model.device.peek()
    if (device === '') return
    const { materialId, cover } = model.choices.peek()
    const { balanceState } = model.input.peek() ?? model.choices.peek()
    await storeCard(opened, cardOfReading(model), kit.greys.peek(), '', now())
    await storeFoundCurve(opened, model, now())
    const at = now().toISOString()
    const held = model.stored.peek()?.heldSince !== undefined
    if (held || !profileOf(device, kit).stored?.data.lock) {
      await rememberLock(opened, device, photo.facts, balanceState, now())
    }
    const region = model.greySource.peek().kind === 'this photo' ? model.cardRegion.peek() : null
    const cardPlace = region && model.balance.peek() && placeIn(photo, region)
    const usual = { object: object.peek().trim(), materialId, cover }
    await changeCamera(
      opened,
      device,
      { usedAt: at, usual, ...(cardPlace ? { cardPlace } : {}) },
      now(),
    )
  }
  const bound = estimate?.kind === 'below range'
  const wide = estimate?.kind === 'temperature' && saysNothing(estimate)
  return (
    <SaveDock
      object={object}
      notes={notes}
      ready={estimate !== null && estimate.kind !== 'no number' && measurement !== null}
      word={bound ? 'Save “not above”' : wide ? 'Save the range' : 'Save reading'}
      mustSay={!bound && model.choices.value.materialId === UNSTATED}
      ask={
        <>
          <p class="soft">The surface changes the figure. It is asked once per object.</p>
          <MaterialPicker
            unstated
            materialId={model.choices.value.materialId}
            onMaterial={(materialId) => {
              model.choices.value = { ...model.choices.value, materialId }
            }}
          />
        </>
      }
      onSaved={(opened) => void remember(opened).catch(sayFailure)}
      // By its content: keeping what was found makes the same estimate anew.
      what={estimate && JSON.stringify(estimate)}
      save={async (log) => {
        if (!estimate || !measurement) throw new Error('saving waits for an estimate')
        const mapped = model.map.peek()
        const made = mapped?.estimate === estimate ? await mapped.made : null
        // Packing comes with the first map that is kept.
        const map = made && (await import('../../session/log/stored-map.ts')).packedMap(made)
        const takenAt =
          dated.value === 'photo' ? takenAtOf(photo.facts, now()) : momentOf(now(), deviceZone())
        const record = recordToSave(model, { takenAt, notes: notes.value, map })
        if (!record) throw new Error('saving waits for an estimate')
        // A reading without its picture is better than none.
        const picture = await photo.regionPicture(measurement.region).catch(() => undefined)
        return (await log.add(record, picture)).id
      }}
    >
      {photo.facts.takenAt !== null && (
        <SelectField
          label="Time of the reading"
          of={[
            ['photo', `${showMoment(photo.facts.takenAt)}, camera`],
            ['now', 'Now'],
          ]}
          value={dated.value}
          onValue={(from) => {
            dated.value = from
          }}
        />
      )}
    </SaveDock>
  )
}
