import { useMemo } from 'preact/hooks'
import { currentResult } from '../../log/schema/reading-schema.ts'
import { createChangeModel } from '../../session/check/change-model.ts'
import { useServices } from '../../session/services.ts'
import { Notices } from '../../ui/notices.tsx'
import { Segments } from '../../ui/segments.tsx'
import { SelectField } from '../../ui/select-field.tsx'
import { showTemperature } from '../../ui/temperature.ts'
import { showMoveSpan } from '../../ui/temperature-span.ts'
import { CHANGE_WORDS } from '../../ui/words/check.ts'
import { logSentence } from '../../ui/words/log-errors.ts'
import { askedId } from './use-asked.ts'

const QUANTITIES = [
  ['watts', 'Against watts'],
  ['volts', 'Against volts'],
] as const
const LAWS = [
  ['heater', 'Heating element'],
  ['lamp', 'Filament lamp'],
] as const

/** Does the reading follow the supply as radiation says it must? */
export function ChangePanel() {
  const { log } = useServices()
  const readingId = askedId()
  const model = useMemo(() => createChangeModel(log, readingId), [log, readingId])
  const objects = model.objects.value
  const comparison = model.comparison.value
  const readings = model.readings.value
  if (model.failure.value) return <p role="alert">{logSentence(model.failure.value)}</p>
  if (objects === null) return <p class="soft">Looking into the log …</p>
  return (
    <section class="stack">
      <SelectField
        label="Object"
        of={
          objects.length === 0
            ? [['', 'No named object in the log']]
            : objects.map(({ text }) => [text, text])
        }
        value={model.object.value}
        onValue={model.choose}
      />
      <Segments
        of={QUANTITIES}
        chosen={model.quantity.value}
        onChoose={(quantity) => {
          model.quantity.value = quantity
        }}
      />
      <Segments
        of={LAWS}
        chosen={model.law.value}
        onChoose={(law) => {
          model.law.value = law
        }}
      />
      {comparison === null ? (
        <p class="card">
          Two readings of this object with their {model.quantity.value} are needed; there{' '}
          {readings.length === 1 ? 'is one' : 'is none'}. Note the {model.quantity.value} with each
          reading in the log.
        </p>
      ) : (
        <section class="stack" aria-live="polite">
          <Notices notices={[CHANGE_WORDS[comparison.verdict]]} />
          <table class="numbers-table">
            <thead>
              <tr>
                <th scope="col">{model.quantity.value === 'watts' ? 'W' : 'V'}</th>
                <th scope="col">Reading</th>
                <th scope="col">Change</th>
                <th scope="col">Expected</th>
              </tr>
            </thead>
            <tbody>
              {readings.map((reading, i) => {
                const step = comparison.steps.find(({ index }) => index === i)
                const result = currentResult(reading)
                return (
                  <tr key={reading.id}>
                    <th scope="row">{reading.supply?.[model.quantity.value]}</th>
                    <td>
                      {result.kind === 'temperature' ? showTemperature(result.temperatureK) : ''}
                    </td>
                    <td>
                      {step
                        ? showMoveSpan(step.measuredChangeK, 2 * step.measuredUncertaintyK)
                        : 'base'}
                    </td>
                    <td>
                      {step
                        ? showMoveSpan(step.predictedChangeK, 2 * step.predictedUncertaintyK)
                        : ''}
                    </td>
                  </tr>
                )
              })}
            </tbody>
          </table>
          <p class="small soft">
            Temperature grows as the fourth root of power where radiation rules; 20 ± 10 % of the
            loss is taken as convection (k = 1). Lamps: volts to the power 0.42. Meters: 1 %. Errors
            that all readings share drop out.
          </p>
        </section>
      )}
    </section>
  )
}
