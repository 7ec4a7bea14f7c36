import { statedTemperatureK } from '../../estimate/spectrum/lamp.ts'
import { deviceZone, momentOf } from '../../log/schema/moment.ts'
import type { Json, Log } from '../../log/schema/types.ts'
import { useServices } from '../../session/services.ts'
import type { SpectrumModel } from '../../session/spectrum/model-types.ts'
import { SaveForm } from '../../ui/save-form.tsx'
import { say } from '../../ui/spoken.tsx'
import { TextField } from '../../ui/text-field.tsx'
import { RESPONSE_SETTINGS } from '../../ui/words/spectrum.ts'

/** Keeps the response in the kit: with its date, what it was taken with, and the lamp's spectrum. */
export function KeepResponse({ model }: { model: SpectrumModel }) {
  const { now } = useServices()
  const keep = async ({ kit }: Log) => {
    const made = model.made.peek()
    const using = model.inUse.peek()
    if (!made?.outcome.ok || !using) return
    const { response } = made.outcome
    await kit.add({
      id: made.id,
      kind: 'response',
      name: model.responseName.peek().trim() || 'Spectrometer',
      date: momentOf(now(), deviceZone()),
      notes: model.settings.peek().trim(),
      simulated: using.simulated,
      temperatureK: statedTemperatureK(response.lamp),
      standardUncertaintyK:
        'standardUncertaintyK' in response.lamp ? response.lamp.standardUncertaintyK : null,
      data: {
        response,
        range: model.range.peek(),
        recording: made.recording,
        lampForm:
          response.lamp.emitter === 'tungsten' ? model.lamp.filament.peek().form.peek() : null,
      } as unknown as Json,
    })
    const { value: range } = model.range
    model.useStored(made.id)
    model.range.value = range
    say('The response is kept in the kit.')
  }
  return (
    <SaveForm save={keep} word="Keep this response in the kit" look="wide" stacked>
      <TextField
        label="Name of the instrument"
        placeholder="Spectrometer"
        value={model.responseName.value}
        onValue={(name) => {
          model.responseName.value = name
        }}
      />
      <TextField
        label={RESPONSE_SETTINGS}
        longest={400}
        value={model.settings.value}
        onValue={(settings) => {
          model.settings.value = settings
        }}
      />
    </SaveForm>
  )
}
