import { type Air, airAt } from './air.ts'

/** Standard acceleration of free fall, m/s^2 (exact). */
const FREE_FALL = 9.80665

/**
 * Rayleigh number g beta dT L^3 / (nu alpha).
 *
 * @param film air at the mean of surface and room temperature
 * @param differenceK surface minus room, K; its sign does not matter
 * @param lengthM characteristic length, m
 */
export function rayleigh(film: Air, differenceK: number, lengthM: number): number {
  return (
    (FREE_FALL * film.expansion * Math.abs(differenceK) * lengthM ** 3) /
    (film.kinematicViscosity * film.thermalDiffusivity)
  )
}

/**
 * Mean Nusselt number (on the diameter) of a long horizontal cylinder in still fluid.
 * {0.60 + 0.387 Ra^(1/6) / [1 + (0.559/Pr)^(9/16)]^(8/27)}^2.
 *
 * @param rayleighNumber 1e-5..1e12; below, the limit 0.36 of the formula
 * @example nusseltHorizontalCylinder(5.073e6, 0.697) // 23.09
 * Source: Churchill & Chu 1975, Int. J. Heat Mass Transfer 18, 1049.
 */
export function nusseltHorizontalCylinder(rayleighNumber: number, prandtl: number): number {
  const shape = (1 + (0.559 / prandtl) ** (9 / 16)) ** (8 / 27)
  return (0.6 + (0.387 * rayleighNumber ** (1 / 6)) / shape) ** 2
}

/**
 * Mean Nusselt number (on the height) of a vertical plate in still fluid, laminar.
 * 0.68 + 0.670 Ra^(1/4) / [1 + (0.492/Pr)^(9/16)]^(4/9).
 *
 * @param rayleighNumber 0..1e9 (ribbons stay below 1e5)
 * Source: Churchill & Chu 1975, Int. J. Heat Mass Transfer 18, 1323.
 */
export function nusseltVerticalPlate(rayleighNumber: number, prandtl: number): number {
  const shape = (1 + (0.492 / prandtl) ** (9 / 16)) ** (4 / 9)
  return 0.68 + (0.67 * rayleighNumber ** 0.25) / shape
}

/**
 * How much more than the correlation a glowing surface gives to room air, because the gas between
 * them changes its properties by a factor: (film / room temperature)^0.17, 1.17 at 900 °C.
 *
 * Source: temperature loading of Collis & Williams 1959 (J. Fluid Mech. 6, 357), from memory; found
 * for wires in a stream. Two handbook tables of nickel-chromium wires in still air (tests) ask for
 * 1.0 to 1.5; what is left over is in CONVECTION_RELATIVE_UNCERTAINTY.
 */
export function temperatureLoading(filmK: number, roomK: number): number {
  return (Math.max(filmK, roomK) / roomK) ** 0.17
}

/** Standard uncertainty of a convective loss, relative: correlations, draughts of a room. */
export const CONVECTION_RELATIVE_UNCERTAINTY = 0.15

/** Which relation, and the length that it is based on, m. */
export interface ConvectionShape {
  readonly relation: 'horizontal cylinder' | 'vertical plate'
  readonly lengthM: number
}

/**
 * Natural convection from a surface to a room, W/m^2; negative where the surface is colder.
 *
 * @param surfaceK, roomK K; film properties to 1500 K, so surfaces to about 2700 K
 */
export function convectiveFlux(shape: ConvectionShape, surfaceK: number, roomK: number): number {
  const filmK = (surfaceK + roomK) / 2
  const film = airAt(filmK)
  const ra = rayleigh(film, surfaceK - roomK, shape.lengthM)
  const nusselt =
    shape.relation === 'vertical plate'
      ? nusseltVerticalPlate(ra, film.prandtl)
      : nusseltHorizontalCylinder(ra, film.prandtl)
  const coefficient = (nusselt * film.conductivity) / shape.lengthM
  return coefficient * temperatureLoading(filmK, roomK) * (surfaceK - roomK)
}
