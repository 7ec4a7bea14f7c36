import { useSignal } from '@preact/signals'
import type { BudgetEntry, Json, Method, Reading } from '../../log/types.ts'
import { go } from '../../ui/router.ts'
import { say } from '../../ui/spoken.tsx'
import { logSentence } from '../../ui/words/log-errors.ts'
import { useServices } from '../services.ts'

/** Version of what this screen computes; stored with each result. */
const METHOD_VERSION = 'check 1'

/** Saves an opinion as a reading of its own, under the object that it is about. */
export function SaveOpinion({
  method,
  temperatureK,
  standardUncertaintyK,
  terms,
  material = '',
  supply = null,
  inputs,
  parts = [],
  object: given = '',
  simulated = false,
}: {
  method: Method
  temperatureK: number
  standardUncertaintyK: number
  terms: readonly BudgetEntry[]
  material?: string
  supply?: Reading['supply']
  inputs: unknown
  parts?: Reading['parts']
  object?: string
  simulated?: boolean
}) {
  const { log } = useServices()
  const object = useSignal(given)
  const busy = useSignal(false)
  const save = async () => {
    busy.value = true
    try {
      const opened = await log
      const { id } = await opened.add({
        method,
        simulated,
        object: object.value.trim(),
        material,
        supply,
        parts,
        result: {
          kind: 'temperature',
          temperatureK,
          standardUncertaintyK,
          expandedUncertaintyK: 2 * standardUncertaintyK,
          interval95K: [
            temperatureK - 2 * standardUncertaintyK,
            temperatureK + 2 * standardUncertaintyK,
          ],
          budget: [...terms],
          methodVersion: METHOD_VERSION,
        },
        inputs: JSON.parse(JSON.stringify(inputs)) as Json,
      })
      say('Saved.', { label: 'Open', run: () => go('log', id) })
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
        void save()
      }}
    >
      <label class="field grow">
        <span>Object</span>
        <input
          type="text"
          maxLength={200}
          value={object.value}
          onInput={(event) => {
            object.value = event.currentTarget.value
          }}
        />
      </label>
      <button type="submit" class="primary" disabled={busy.value}>
        Save
      </button>
    </form>
  )
}
