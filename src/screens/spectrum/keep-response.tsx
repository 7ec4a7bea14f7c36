import { useSignal } from '@preact/signals'
import { deviceZone, momentOf } from '../../log/moment.ts'
import type { Json } from '../../log/types.ts'
import { say } from '../../ui/spoken.tsx'
import { logSentence } from '../../ui/words/log-errors.ts'
import { RESPONSE_SETTINGS } from '../../ui/words/spectrum.ts'
import { useServices } from '../services.ts'
import type { SpectrumModel } from './model-types.ts'

/** Keeps the response in the kit: with its date, what it was taken with, and the lamp's spectrum. */
export function KeepResponse({ model }: { model: SpectrumModel }) {
  const { log, now } = useServices()
  const busy = useSignal(false)
  const keep = async () => {
    const made = model.made.peek()
    const using = model.inUse.peek()
    if (!made?.outcome.ok || !using) return
    const { response } = made.outcome
    busy.value = true
    try {
      const { kit } = await log
      await kit.add({
        id: made.id,
        kind: 'response',
        name: model.responseName.peek().trim() || 'Spectrometer',
        date: momentOf(now(), deviceZone()),
        notes: model.settings.peek().trim(),
        simulated: using.simulated,
        temperatureK: response.lamp.colourTemperatureK,
        standardUncertaintyK: response.lamp.standardUncertaintyK,
        data: {
          response,
          range: model.range.peek(),
          recording: made.recording,
          lampForm:
            response.lamp.emitter === 'tungsten' ? model.lamp.filament.peek().form.peek() : null,
        } as unknown as Json,
      })
      const { value: range } = model.range
      model.useKept(made.id)
      model.range.value = range
      say('The response is kept in the kit.')
    } catch (error) {
      say(logSentence(error))
    } finally {
      busy.value = false
    }
  }
  return (
    <form
      class="stack"
      onSubmit={(event) => {
        event.preventDefault()
        void keep()
      }}
    >
      <label class="field">
        <span>Name of the instrument</span>
        <input
          type="text"
          maxLength={200}
          placeholder="Spectrometer"
          value={model.responseName.value}
          onInput={(event) => {
            model.responseName.value = event.currentTarget.value
          }}
        />
      </label>
      <label class="field">
        <span>{RESPONSE_SETTINGS}</span>
        <input
          type="text"
          maxLength={400}
          value={model.settings.value}
          onInput={(event) => {
            model.settings.value = event.currentTarget.value
          }}
        />
      </label>
      <button type="submit" class="wide" disabled={busy.value}>
        Keep this response in the kit
      </button>
    </form>
  )
}
