import type { Log } from '../../log/schema/types.ts'
import { cardOfReading, storeCard } from '../../session/kit/store-card.ts'
import type { ReadingModel } from '../../session/reading/reading-model-type.ts'
import { useServices } from '../../session/services.ts'
import { SaveForm } from '../save-form.tsx'
import { say } from '../spoken.tsx'
import { TextField } from '../text-field.tsx'
import { useTyped } from '../use-typed.ts'

/** Keeps the grey reference in the kit, by name, and uses it from there. */
export function KeepGrey({ model }: { model: ReadingModel }) {
  const { kit, now } = useServices()
  const name = useTyped('card name')
  const keep = async (log: Log) => {
    if (await storeCard(log, cardOfReading(model), kit.greys.value, name.value, now()))
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
