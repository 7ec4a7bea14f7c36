import type { BudgetEntry, Json, Log, Method, Reading } from '../../log/schema/types.ts'
import { symmetricResult } from '../../log/statistics/symmetric-result.ts'
import { go } from '../../ui/router.ts'
import { SaveForm } from '../../ui/save-form.tsx'
import { say } from '../../ui/spoken.tsx'
import { TextField } from '../../ui/text-field.tsx'
import { useTyped } from '../../ui/use-typed.ts'

/** Version of what this screen computes; stored with each result. */
const METHOD_VERSION = 'check 2'

/** What rests on a reading can be kept once the reading is. */
export const SaveOpenFirst = () => (
  <p class="soft">Save the open reading first: then this can be saved too.</p>
)

/** Saves an estimate as a reading of its own, under the object that it is about. */
export function SaveEstimate({
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
  const object = useTyped('estimate object', given)
  const save = async (log: Log) => {
    const { id } = await log.add({
      method,
      simulated,
      object: object.value.trim(),
      material,
      supply,
      parts,
      result: symmetricResult(temperatureK, standardUncertaintyK, terms, METHOD_VERSION),
      inputs: JSON.parse(JSON.stringify(inputs)) as Json,
    })
    say('Saved.', { label: 'Open', run: () => go('log', id) })
  }
  return (
    <SaveForm save={save} word="Save" look="primary">
      <TextField
        label="Object"
        value={object.value}
        onValue={(typed) => {
          object.value = typed
        }}
      />
    </SaveForm>
  )
}
