import { temperatureFromUnit, temperatureInUnit } from '../../physics/units.ts'
import { useServices } from '../../session/services.ts'
import type { LampChoice } from '../../session/spectrum/lamp-choice.ts'
import { DimmerQuestion } from '../../ui/lamp/dimmer-question.tsx'
import { LampSetup, MeterFields, WayPicker } from '../../ui/lamp/lamp-fields.tsx'
import { LampResult } from '../../ui/lamp/lamp-result.tsx'
import { NumberField } from '../../ui/number-field.tsx'
import { SelectField } from '../../ui/select-field.tsx'
import { temperatureUnit, UNIT_SYMBOLS } from '../../ui/temperature.ts'

const NEW_LAMP = 'new'
const BLACK = 'black body'

/** The source whose colour temperature is known: a lamp of the kit, another lamp, a black body. */
export function LampPanel({ choice }: { choice: LampChoice }) {
  const { kit } = useServices()
  const filament = choice.filament.value
  const lamps = kit.lamps.value
  const black = choice.emitter.value === 'black body'
  const known = lamps.some(({ item }) => item.id === filament.lampId)
  return (
    <section class="stack" aria-labelledby="spectrum-lamp">
      <h2 id="spectrum-lamp">The lamp</h2>
      <SelectField
        label="Light source"
        of={[
          ...lamps.map(({ item }) => [item.id, item.name] as const),
          [NEW_LAMP, lamps.length === 0 ? 'Filament lamp' : 'Another filament lamp'],
          [BLACK, 'Black body of known temperature'],
        ]}
        value={black ? BLACK : known ? filament.lampId : NEW_LAMP}
        onValue={(chosen) => {
          choice.emitter.value = chosen === BLACK ? 'black body' : 'tungsten'
          if (chosen !== BLACK) {
            choice.take(lamps.find(({ item }) => item.id === chosen) ?? null)
          }
        }}
      />
      {black ? (
        <BlackFields choice={choice} />
      ) : (
        <>
          <WayPicker model={filament} />
          <LampSetup model={filament} />
          <DimmerQuestion model={filament} />
          <MeterFields model={filament} />
          <LampResult outcome={filament.outcome.value} />
        </>
      )}
    </section>
  )
}

function BlackFields({ choice }: { choice: LampChoice }) {
  const { temperatureK, standardUncertaintyK } = choice.black.value
  const unit = temperatureUnit.value
  return (
    <div class="row">
      <NumberField
        label={`Temperature, ${UNIT_SYMBOLS[unit]}`}
        value={Math.round(temperatureInUnit(temperatureK, unit))}
        min={Math.ceil(temperatureInUnit(1500, unit))}
        max={Math.floor(temperatureInUnit(3600, unit))}
        onValue={(value) => {
          if (value === null) return
          choice.black.value = {
            temperatureK: temperatureFromUnit(value, unit),
            standardUncertaintyK,
          }
        }}
      />
      <NumberField
        label="± 1 standard uncertainty, K"
        value={standardUncertaintyK}
        min={0}
        max={500}
        onValue={(value) => {
          if (value !== null) choice.black.value = { temperatureK, standardUncertaintyK: value }
        }}
      />
    </div>
  )
}
