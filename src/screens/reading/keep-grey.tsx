import { useSignal } from '@preact/signals'
import { deviceZone, momentOf } from '../../log/moment.ts'
import type { Json } from '../../log/types.ts'
import { say } from '../../ui/spoken.tsx'
import { logSentence } from '../../ui/words/log-errors.ts'
import { useServices } from '../services.ts'
import { cameraIdOf } from './photo-meaning.ts'
import type { ReadingModel } from './reading-model.ts'

/** Keeps the grey reference in the kit, by name, and uses it from there. */
export function KeepGrey({ model }: { model: ReadingModel }) {
  const { log, now } = useServices()
  const name = useSignal('')
  const busy = useSignal(false)
  const keep = async () => {
    const balance = model.balance.value
    const card = model.card.value
    const slot = model.greySource.value.kind === 'other photo' ? model.other : model.glow
    const photo = slot.photo.value
    if (!balance || !card || !photo) return
    busy.value = true
    try {
      const opened = await log
      const item = await opened.kit.add({
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
    } catch (error) {
      say(logSentence(error))
    } finally {
      busy.value = false
    }
  }
  return (
    <form
      class="row"
      onSubmit={(event) => {
        event.preventDefault()
        void keep()
      }}
    >
      <label class="field grow">
        <span>Keep this card in the kit as</span>
        <input
          type="text"
          maxLength={200}
          placeholder="Grey card, north window"
          value={name.value}
          onInput={(event) => {
            name.value = event.currentTarget.value
          }}
        />
      </label>
      <button type="submit" disabled={busy.value}>
        Keep
      </button>
    </form>
  )
}
