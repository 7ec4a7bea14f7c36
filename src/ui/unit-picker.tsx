import type { TemperatureUnit } from '../physics/units.ts'
import { Segments } from './segments.tsx'
import { temperatureUnit, UNIT_SYMBOLS } from './temperature.ts'

const UNITS = Object.entries(UNIT_SYMBOLS) as [TemperatureUnit, string][]

/** °C, °F or K, for the whole app. */
export function UnitPicker() {
  return (
    <fieldset class="unit-picker">
      <legend class="soft small">Show temperatures in</legend>
      <Segments
        of={UNITS}
        chosen={temperatureUnit.value}
        onChoose={(unit) => {
          temperatureUnit.value = unit
        }}
      />
    </fieldset>
  )
}
