import { useSignal } from '@preact/signals'
import { deviceZone, momentOf } from '../../log/moment.ts'
import type { Json } from '../../log/types.ts'
import { say } from '../../ui/spoken.tsx'
import { logSentence } from '../../ui/words/log-errors.ts'
import { useServices } from '../services.ts'
import { lampToKeep } from './lamp-form.ts'
import type { LampModel } from './lamp-model.ts'

/** Keeps the lamp itself: its rating, its cold resistance, the meters. */
export function KeepLamp({ model }: { model: LampModel }) {
  const { log, now } = useServices()
  const busy = useSignal(false)
  const inKit = model.inKit.value
  const keep = async () => {
    const form = model.form.peek()
    const lamp = lampToKeep(form)
    const name = form.name.trim() || 'Lamp'
    busy.value = true
    try {
      const { kit } = await log
      const what = {
        name,
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
      say(inKit ? 'The lamp is up to date.' : 'The lamp is kept in the kit.')
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
        <span>Name of the lamp</span>
        <input
          type="text"
          maxLength={200}
          placeholder="Bench lamp"
          value={model.form.value.name}
          onInput={(event) => model.change({ name: event.currentTarget.value })}
        />
      </label>
      <button type="submit" class="at-foot" disabled={busy.value}>
        {inKit ? 'Update the lamp' : 'Keep the lamp'}
      </button>
    </form>
  )
}
