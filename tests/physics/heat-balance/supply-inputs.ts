/** Numbers of a supply for tests, and its temperature or an error. */
import {
  type SupplyInput,
  type SupplyTemperature,
  supplyTemperature,
} from '../../../src/physics/heat-balance/supply-temperature.ts'
import { type Estimate, materialById } from '../../../src/physics/materials.ts'
import type { MeterReading } from '../../../src/physics/meters.ts'

export const sure = (value: number): Estimate => ({ value, standardUncertainty: 0 })
export const give = (value: number, percent: number): Estimate => ({
  value,
  standardUncertainty: (value * percent) / 100,
})
export const meter = (value: number, percentOfReading = 0): MeterReading => ({
  value,
  percentOfReading,
  digits: 0,
  resolution: 0,
})
export function solved(input: SupplyInput): SupplyTemperature {
  const result = supplyTemperature(input)
  if (!result.ok) throw new Error(`refused: ${result.code} ${result.term}`)
  return result
}
export const nickelChromium = materialById('nickel-chromium-oxidised')!
export const fecral = materialById('fecral-oxidised')!
