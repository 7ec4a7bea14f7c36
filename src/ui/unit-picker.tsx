import type { TemperatureUnit } from '../physics/units.ts'
import { temperatureUnit, UNIT_SYMBOLS } from './temperature.ts'

const UNITS = Object.keys(UNIT_SYMBOLS) as TemperatureUnit[]

/** °C, °F or K, for the whole app. */
export function UnitPicker() {
  return (
    <fieldset class="unit-picker">
      <legend class="soft small">Show temperatures in</legend>
      <div class="segments">
        {UNITS.map((unit) => (
          <button
            key={unit}
            type="button"
            aria-pressed={temperatureUnit.value === unit}
            onClick={() => {
              temperatureUnit.value = unit
            }}
          >
            {UNIT_SYMBOLS[unit]}
          </button>
        ))}
      </div>
    </fieldset>
  )
}
