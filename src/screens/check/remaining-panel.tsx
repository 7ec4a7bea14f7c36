import { useEffect, useMemo } from 'preact/hooks'
import type { MeasuringStep, RemainingUncertainty } from '../../estimate/remaining-uncertainty.ts'
import type { BudgetTerm } from '../../estimate/types.ts'
import { ASKED, createRemainingModel } from '../../session/check/remaining-model.ts'
import { useServices } from '../../session/services.ts'
import { SelectField } from '../../ui/select-field.tsx'
import {
  roundTemperature,
  showTemperature,
  temperatureUnit,
  UNIT_SYMBOLS,
} from '../../ui/temperature.ts'
import { MEASURING_STEP_WORDS } from '../../ui/words/check.ts'
import { TERM_NAMES } from '../../ui/words/estimate.ts'
import { logSentence } from '../../ui/words/log-errors.ts'
import css from './check.module.css'
import { askedId } from './use-asked.ts'

/** For a camera: what is left of the ±, cause by cause, and what each next step would leave. */
export function RemainingPanel() {
  const { log, kit } = useServices()
  const readingId = askedId()
  const model = useMemo(() => createRemainingModel(log, kit, readingId), [log, kit, readingId])
  useEffect(() => () => model.dispose(), [model])
  const cameras = model.cameras.value
  if (model.failure.value) return <p role="alert">{logSentence(model.failure.value)}</p>
  if (cameras === null) return <p class="soft">Looking into the log …</p>
  const [first] = cameras
  if (!first) {
    return (
      <p class="card">
        No camera yet. Save a reading by photo, or put a known heat into the kit: then the table
        shows what its ± is made of.
      </p>
    )
  }
  const columns = model.columns.value
  return (
    <section class="stack">
      <SelectField
        label="Camera"
        of={cameras.map(({ key, cameraId, like }) => [
          key,
          `${key === ASKED ? 'This reading: ' : ''}${cameraId || 'camera without a name'}, ${
            like.channels === 'camera' ? 'raw' : like.balanceState.kind
          }`,
        ])}
        value={model.key.value || first.key}
        onValue={(key) => {
          model.key.value = key
        }}
      />
      {columns ? (
        <Table columns={columns} />
      ) : (
        <p class="soft" aria-live="polite">
          Working it out …
        </p>
      )}
      <p class="small soft">
        ± holds 19 times in 20. A reading like {model.key.value === ASKED ? 'this' : 'the newest'}{' '}
        one of the camera, with the known heats of the kit. Causes add as squares. Each step alone,
        from where you are now.
      </p>
    </section>
  )
}

const termsOf = (columns: readonly RemainingUncertainty[]): BudgetTerm[] => {
  const most = new Map<BudgetTerm, number>()
  for (const { causes } of columns)
    for (const { term, standardUncertaintyK: u } of causes)
      most.set(term, Math.max(most.get(term) ?? 0, u))
  return [...most].sort((a, b) => b[1] - a[1]).flatMap(([term, u]) => (u >= LEAST_K ? term : []))
}
/** Causes below this everywhere are not shown, K. */
const LEAST_K = 0.5

function Table({ columns }: { columns: readonly RemainingUncertainty[] }) {
  const steps = [...new Set(columns.flatMap(({ after }) => after.map(({ step }) => step)))]
  const cell = (u: number | null | undefined) => (u ? roundTemperature(0, 2 * u).plusMinus : '–')
  const afterOf = (column: RemainingUncertainty, step: MeasuringStep) =>
    column.after.find((one) => one.step === step)?.standardUncertaintyK
  return (
    <table class={`numbers-table ${css.wholeCells}`}>
      <thead>
        <tr>
          <th scope="col">± {UNIT_SYMBOLS[temperatureUnit.value]} at a heat of</th>
          {columns.map(({ temperatureK }) => (
            <th key={temperatureK} scope="col">
              {showTemperature(temperatureK).split(' ')[0]}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        <tr>
          <th scope="row">Now</th>
          {columns.map(({ temperatureK, nowK }) => (
            <td key={temperatureK}>
              <strong>{cell(nowK)}</strong>
            </td>
          ))}
        </tr>
        {termsOf(columns).map((term) => (
          <tr key={term}>
            <th scope="row" class="soft">
              {TERM_NAMES[term]}
            </th>
            {columns.map(({ temperatureK, causes }) => (
              <td key={temperatureK} class="soft">
                {cell(causes.find((one) => one.term === term)?.standardUncertaintyK)}
              </td>
            ))}
          </tr>
        ))}
        {steps.length > 0 && (
          <tr>
            <th scope="rowgroup" colSpan={columns.length + 1} class="small">
              After one more step
            </th>
          </tr>
        )}
        {steps.map((step) => (
          <tr key={step}>
            <th scope="row">{MEASURING_STEP_WORDS[step]}</th>
            {columns.map((column) => (
              <td key={column.temperatureK}>
                <strong>{cell(afterOf(column, step))}</strong>
              </td>
            ))}
          </tr>
        ))}
      </tbody>
    </table>
  )
}
