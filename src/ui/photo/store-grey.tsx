import { useSignal } from '@preact/signals'
import { deviceZone, momentOf } from '../../log/schema/moment.ts'
import type { Json, Log } from '../../log/schema/types.ts'
import { cameraIdOf } from '../../session/reading/photo-meaning.ts'
import type { ReadingModel } from '../../session/reading/reading-model.ts'
import { useServices } from '../../session/services.ts'
import { SaveForm } from '../save-form.tsx'
import { say } from '../spoken.tsx'
import { TextField } from '../text-field.tsx'

/** Keeps the grey reference in the kit, by name, and uses it from there. */
export function KeepGrey({ model }: { model: ReadingModel }) {
  const { now } = useServices()
  const name = useSignal('')
  const keep = async ({ kit }: Log) => {
    const balance = model.balance.value
    const card = model.card.value
    const slot = model.greySource.value.kind === 'other photo' ? model.other : model.glow
    const photo = slot.photo.value
    if (!balance || !card || !photo) return
    const item = await kit.add({
      kind: 'grey reference',
      name: name.value.trim() || 'Grey card',
      date: momentOf(now(), deviceZone()),
      cameraId: cameraIdOf(photo.facts),
      balanceState: model.choices.value.balanceState.kind,
      simulated: model.simulatedTruthK.value !== null,
      data: {
        balance,
        card,
        light: model.cardLight.value,
        channels: photo.channels,
      } as unknown as Json,
    })
    const grey = { id: item.id, name: item.name, balance: { ...balance, id: item.id } }
    model.greySource.value = {
      kind: 'kept',
      grey: { ...grey, channels: photo.channels, cameraId: item.cameraId },
    }
    say('Kept in the kit.')
  }
  return (
    <SaveForm save={keep} word="Keep">
      <TextField
        label="Keep this card in the kit as"
        placeholder="Grey card, north window"
        value={name.value}
        onValue={(typed) => {
          name.value = typed
        }}
      />
    </SaveForm>
  )
}
