import { monotoneCubic } from '../../numerics/monotone-cubic.ts'
import { AIR_TABLE } from './air.data.ts'

/** Specific gas constant of dry air, J/(kg K). Source: US Standard Atmosphere 1976. */
const GAS_CONSTANT_AIR = 287.05
/** Standard atmosphere, Pa (exact). */
const STANDARD_PRESSURE = 101325
/** Where the table of air holds, K. */
export const AIR_RANGE_K = [200, 1500] as const

const VISCOSITY = monotoneCubic(AIR_TABLE.map(([t, mu]) => [t, mu * 1e-7]))
const CONDUCTIVITY = monotoneCubic(AIR_TABLE.map(([t, , k]) => [t, k * 1e-3]))
const SPECIFIC_HEAT = monotoneCubic(AIR_TABLE.map(([t, , , cp]) => [t, cp * 1e3]))

/** Dry air at one temperature and standard pressure, SI. */
export interface Air {
  /** kg/m^3 */
  readonly density: number
  /** Pa s */
  readonly viscosity: number
  /** W/(m K) */
  readonly conductivity: number
  /** J/(kg K) */
  readonly specificHeat: number
  /** m^2/s */
  readonly kinematicViscosity: number
  /** m^2/s */
  readonly thermalDiffusivity: number
  readonly prandtl: number
  /** 1/K, of an ideal gas */
  readonly expansion: number
}

/**
 * Properties of dry air at 1 atm.
 *
 * @param temperatureK 200..1500 K; beyond, conductivity, viscosity and heat are held at the end
 *   while density goes on as that of an ideal gas
 * Source: AIR_TABLE; density by the ideal gas law.
 */
export function airAt(temperatureK: number): Air {
  const within = Math.min(Math.max(temperatureK, AIR_RANGE_K[0]), AIR_RANGE_K[1])
  const density = STANDARD_PRESSURE / (GAS_CONSTANT_AIR * temperatureK)
  const viscosity = VISCOSITY.value(within)
  const conductivity = CONDUCTIVITY.value(within)
  const specificHeat = SPECIFIC_HEAT.value(within)
  const kinematicViscosity = viscosity / density
  const thermalDiffusivity = conductivity / (density * specificHeat)
  return {
    density,
    viscosity,
    conductivity,
    specificHeat,
    kinematicViscosity,
    thermalDiffusivity,
    prandtl: kinematicViscosity / thermalDiffusivity,
    expansion: 1 / temperatureK,
  }
}
