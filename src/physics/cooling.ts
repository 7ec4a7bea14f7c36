import { STEFAN_BOLTZMANN } from './constants.ts'

/** A convex body that is as hot inside as outside. */
export interface CoolingBody {
  readonly densityKgM3: number
  /** Mean over the range of temperature, J/(kg K). */
  readonly specificHeatJKgK: number
  /** m; a quarter of the diameter of a long round bar, half the thickness of a plate. */
  readonly volumeOverAreaM: number
  /** Total hemispherical, 0..1. */
  readonly emissivity: number
}

/**
 * What a body's radiation takes off in a second over the fourth power of its temperature,
 * 1/(K^3 s): dT/dt = -k (T^4 - T0^4).
 */
export const radiativeRate = (body: CoolingBody): number =>
  (body.emissivity * STEFAN_BOLTZMANN) /
  (body.densityKgM3 * body.specificHeatJKgK * body.volumeOverAreaM)

/**
 * Seconds in which a grey body cools by radiation alone from one temperature to another.
 *
 * Without surroundings the integral of dT/dt = -k T^4 is t = (1/T^3 - 1/T0^3) / (3 k); with them it
 * is that of 1/(T^4 - S^4), by partial fractions (Incropera & DeWitt, Fundamentals of Heat and Mass
 * Transfer, eq. 5.18). Infinite where the end is not above the surroundings.
 *
 * @param rate {@link radiativeRate}, 1/(K^3 s)
 * @param fromK beginning, K
 * @param toK end, K, at most fromK
 * @param roomK surroundings, K; 0 for none
 * @example radiativeCoolingSeconds(1e-12, 1300, 1000) // 181.6; s
 */
export function radiativeCoolingSeconds(
  rate: number,
  fromK: number,
  toK: number,
  roomK = 0,
): number {
  if (!(toK > roomK)) return Number.POSITIVE_INFINITY
  if (roomK <= 0) return (toK ** -3 - fromK ** -3) / (3 * rate)
  const part = (t: number) => Math.log((t + roomK) / (t - roomK)) + 2 * Math.atan(t / roomK)
  return (part(toK) - part(fromK)) / (4 * rate * roomK ** 3)
}

/**
 * Temperature after a time of cooling by radiation without surroundings, K: the inverse of
 * {@link radiativeCoolingSeconds} with roomK = 0. Negative times lead back to the hotter past;
 * infinite beyond the beginning of such a cooling.
 */
export function radiativeTemperature(rate: number, fromK: number, seconds: number): number {
  const inverseCube = fromK ** -3 + 3 * rate * seconds
  return inverseCube > 0 ? inverseCube ** (-1 / 3) : Number.POSITIVE_INFINITY
}

/**
 * Newton's law: temperature that nears an end exponentially, K.
 *
 * @param tauSeconds time constant, s: after it 63.2 % of the way is done
 */
export const exponentialTemperature = (
  endK: number,
  fromK: number,
  tauSeconds: number,
  seconds: number,
): number => endK + (fromK - endK) * Math.exp(-seconds / tauSeconds)
