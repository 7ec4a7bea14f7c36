import { temperatureFromUnit, temperatureInUnit } from '../../physics/units.ts'
import type { RecordingModel } from '../../session/recording/recording-model.ts'
import { NumberField } from '../../ui/number-field.tsx'
import { showTemperature, temperatureUnit, UNIT_SYMBOLS } from '../../ui/temperature.ts'
import { NOT_REACHED, showSeconds } from '../../ui/words/recording.ts'

/** Time from one temperature to another, and above the first. */
export function TimesPanel({ model }: { model: RecordingModel }) {
  const unit = temperatureUnit.value
  const { fromK, toK } = model.levels.value
  const passage = model.passage.value
  const above = model.above.value
  const field = (label: string, which: 'fromK' | 'toK') => {
    const value = model.levels.value[which]
    return (
      <NumberField
        label={`${label}, ${UNIT_SYMBOLS[unit]}`}
        value={value === null ? null : Math.round(temperatureInUnit(value, unit))}
        min={Math.round(temperatureInUnit(300, unit))}
        max={Math.round(temperatureInUnit(4000, unit))}
        onValue={(typed) => {
          const kelvin = typed === null ? null : temperatureFromUnit(typed, unit)
          model.levels.value = { ...model.levels.value, [which]: kelvin }
        }}
      />
    )
  }
  return (
    <section class="card stack">
      <h2>Times</h2>
      <div class="two-up">
        {field('From', 'fromK')}
        {field('To', 'toK')}
      </div>
      {passage?.kind === 'passed' && fromK !== null && toK !== null && (
        <p class="figure">
          {showTemperature(fromK)} to {showTemperature(toK)}:{' '}
          <strong>{showSeconds(passage.seconds, passage.standardUncertainty)}</strong>
        </p>
      )}
      {passage?.kind === 'not reached' && <p class="soft">{NOT_REACHED[passage.which]}</p>}
      {above && fromK !== null && (
        <p class="figure">
          Above {showTemperature(fromK)}:{' '}
          <strong>{showSeconds(above.seconds, above.standardUncertainty)}</strong>
        </p>
      )}
    </section>
  )
}
