import { COLD_LAMP_RANGE_K } from '../../physics/lamps.ts'
import { temperatureFromUnit, temperatureInUnit } from '../../physics/units.ts'
import type { LampModel } from '../../session/kit/lamp-model.ts'
import { NumberField } from '../number-field.tsx'
import { SelectField } from '../select-field.tsx'
import { temperatureUnit, UNIT_SYMBOLS } from '../temperature.ts'
import { MeterField } from './meter-field.tsx'

/** The lamp when cold, and which two meters look at it when hot. */
export function ColdFields({ model }: { model: LampModel }) {
  const { second, roomK } = model.form.value
  const unit = temperatureUnit.value
  const [coldest, warmest] = COLD_LAMP_RANGE_K
  return (
    <>
      <div class="row">
        <MeterField model={model} name="coldOhms" />
        <NumberField
          label={`Lamp when cold, ${UNIT_SYMBOLS[unit]}`}
          value={Math.round(10 * temperatureInUnit(roomK, unit)) / 10}
          min={Math.ceil(temperatureInUnit(coldest, unit))}
          max={Math.floor(temperatureInUnit(warmest, unit))}
          onValue={(value) => {
            if (value !== null) model.change({ roomK: temperatureFromUnit(value, unit) })
          }}
        />
      </div>
      <SelectField
        label="Hot, from"
        of={[
          ['amperes', 'Volts and amperes'],
          ['watts', 'Volts and watts'],
        ]}
        value={second}
        onValue={(meter) => model.change({ second: meter })}
      />
    </>
  )
}
