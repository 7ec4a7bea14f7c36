/**
 * Share of diffuse light falling on a plane grid of parallel rods that meets a rod.
 *
 * @param ratio rod diameter over pitch, 0..1 (touching); beyond 1 it is 1
 * Source: Hottel's crossed strings; e.g. Incropera & DeWitt, table 13.1, infinite plane and row of
 *   cylinders.
 */
export function gridIntercept(ratio: number): number {
  if (ratio >= 1) return 1
  if (ratio <= 0) return 0
  return 1 - Math.sqrt(1 - ratio * ratio) + ratio * Math.atan(Math.sqrt(1 / (ratio * ratio) - 1))
}

/** Share of the light from one disc that meets an equal coaxial disc (exact; e.g. same table). */
export function discToDisc(radiusM: number, distanceM: number): number {
  const x = 2 + (distanceM / radiusM) ** 2
  return (x - Math.sqrt(x * x - 4)) / 2
}

export interface Coil {
  readonly wireDiameterM: number
  /** Mean diameter of the winding: outer diameter minus one wire. */
  readonly coilDiameterM: number
  readonly pitchM: number
  readonly turns: number
}

/** Standard uncertainty of {@link coilEscape}, relative: it lies within -5..+3 % of ray tracing. */
export const COIL_ESCAPE_RELATIVE_UNCERTAINTY = 0.025

/**
 * View factor of a coil's wire to everything that is not the coil: the share of the diffuse light
 * leaving the wire that never meets the coil again.
 *
 * Derivation: a coil is a grid of rods of pitch p rolled into a cylinder of mean diameter D. By
 * reciprocity a share s = p a / (pi d) of what a rod emits leaves a flat grid on each side (a: what
 * the grid intercepts); rolled up, (1 + d/D) s outwards and (1 - d/D) s inwards, as the lengths of
 * the two hulls. What neither takes, 1 - 2 s, is seen by neighbours, of which the two end turns lack
 * one each. Light inside meets the open ends (share e, from the inner wall) or the opposite wall,
 * where 1 - a of it passes between the turns. Together
 * F = (1 - 2 s) / n + (1 + d/D) s + (1 - d/D) s [e + (1 - e)(1 - a)].
 *
 * Limits: wide pitch 1; touching turns of a long wide coil 1/pi (both exact). Holds from 3 turns
 * and a mean diameter of 3 wires on; checked there against ray tracing of a stack of rings.
 *
 * @returns 0..1; pitch below the wire's diameter counts as touching
 */
export function coilEscape(coil: Coil): number {
  const { wireDiameterM: d, coilDiameterM, turns } = coil
  const pitch = Math.max(coil.pitchM, d)
  const intercept = gridIntercept(d / pitch)
  const eachSide = (pitch * intercept) / (Math.PI * d)
  const curvature = d / Math.max(coilDiameterM, 2 * d)
  const freeAtEnds = (1 - 2 * eachSide) / turns
  const radius = Math.max(coilDiameterM - d, d) / 2
  const length = Math.max((turns - 1) * pitch, 0) + d
  const ends = (radius / length) * (1 - discToDisc(radius, length))
  const outwards = eachSide * (1 + curvature)
  const inwards = eachSide * (1 - curvature) * (ends + (1 - ends) * (1 - intercept))
  return Math.min(1, freeAtEnds + outwards + inwards)
}

/**
 * Radiated flux over that of a black body for a grey surface that sees itself: 1 / (1/F + 1/e - 1).
 *
 * @param emissivity total emissivity, 0 < e <= 1
 * @param escaping view factor to the surroundings, 0 < F <= 1; 1 gives the emissivity itself
 * Source: one-surface grey enclosure, e.g. Incropera & DeWitt, radiation network.
 */
export function apparentEmissivity(emissivity: number, escaping: number): number {
  return 1 / (1 / escaping + 1 / emissivity - 1)
}
