import { deviceZone, momentOf } from '../../log/schema/moment.ts'
import type { Json, Log } from '../../log/schema/types.ts'
import { forgetLampDraft } from '../../session/kit/lamp-draft.ts'
import { lampToKeep } from '../../session/kit/lamp-form.ts'
import type { LampModel } from '../../session/kit/lamp-model.ts'
import { useServices } from '../../session/services.ts'
import { SaveForm } from '../../ui/save-form.tsx'
import { say } from '../../ui/spoken.tsx'
import { TextField } from '../../ui/text-field.tsx'

/** Keeps the lamp itself: its rating, its cold resistance, the meters. */
export function KeepLamp({ model }: { model: LampModel }) {
  const { now } = useServices()
  const inKit = model.inKit.value
  const keep = async ({ kit }: Log) => {
    const form = model.form.peek()
    const lamp = lampToKeep(form)
    const what = {
      name: form.name.trim() || 'Lamp',
      temperatureK: lamp.rating.colourTemperatureK,
      standardUncertaintyK: lamp.rating.standardUncertaintyK,
      data: lamp as unknown as Json,
    }
    if (inKit) await kit.change(model.lampId, what)
    else {
      const date = momentOf(now(), deviceZone())
      await kit.add({ id: model.lampId, kind: 'lamp', date, ...what })
    }
    model.inKit.value = true
    forgetLampDraft(model)
    say(inKit ? 'The lamp is up to date.' : 'The lamp is kept in the kit.')
  }
  return (
    <SaveForm save={keep} word={inKit ? 'Update the lamp' : 'Keep the lamp'} look="at-foot">
      <TextField
        label="Name of the lamp"
        placeholder="Bench lamp"
        value={model.form.value.name}
        onValue={(name) => model.change({ name })}
      />
    </SaveForm>
  )
}
