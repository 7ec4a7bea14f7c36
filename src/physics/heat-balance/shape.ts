import { convectiveFlux } from './natural-convection.ts'
import { coilEscape } from './view-factor.ts'

/** Straight round wire or rod, horizontal, its ends clamped; m. */
export interface Straight {
  readonly shape: 'wire' | 'rod'
  readonly lengthM: number
  readonly diameterM: number
}

/** Round wire wound into a coil with a horizontal axis; m. */
export interface Coiled {
  readonly shape: 'coil'
  readonly wireDiameterM: number
  /** Mean diameter of the winding: outer diameter minus one wire. */
  readonly coilDiameterM: number
  readonly pitchM: number
  readonly turns: number
}

/** Flat strip on edge, ends clamped; m. A strip lying flat convects alike within the spread. */
export interface Ribbon {
  readonly shape: 'ribbon'
  readonly lengthM: number
  readonly widthM: number
  readonly thicknessM: number
}

export type GlowingShape = Straight | Coiled | Ribbon

/** What the balance needs to know of a shape. */
export interface Body {
  /** Surface that radiates, m^2. */
  readonly areaM2: number
  /** View factor of that surface to what is not the object itself. */
  readonly escape: number
  /**
   * Heat given to room air, W.
   * @param openness 0..1, coils only: 1 as if each turn stood alone, 0 as if closed to a cylinder
   */
  readonly convection: (surfaceK: number, roomK: number, openness: number) => number
}

/** Length of the wire in a coil, m: turns times the length of one turn of a helix. */
export const coilWireLength = (coil: Omit<Coiled, 'shape' | 'wireDiameterM'>): number =>
  coil.turns * Math.hypot(Math.PI * coil.coilDiameterM, coil.pitchM)

/**
 * Radiating area, self-view and convection of a shape.
 *
 * Coils: turns warm the air for each other. A closed coil convects like a cylinder of its outer
 * diameter, a wide one like its wire alone; between the two no relation is at hand, so the caller
 * states where (and how surely) it stands. The first is never taken above the second.
 */
export function bodyOf(shape: GlowingShape): Body {
  if (shape.shape === 'ribbon') {
    const areaM2 = 2 * (shape.widthM + shape.thicknessM) * shape.lengthM
    const relation = { relation: 'vertical plate', lengthM: shape.widthM } as const
    return {
      areaM2,
      escape: 1,
      convection: (t, room) => areaM2 * convectiveFlux(relation, t, room),
    }
  }
  if (shape.shape === 'coil') {
    const { wireDiameterM, coilDiameterM, pitchM, turns } = shape
    const areaM2 = Math.PI * wireDiameterM * coilWireLength(shape)
    const outerM = coilDiameterM + wireDiameterM
    const hullM2 =
      Math.PI * outerM * ((turns - 1) * Math.max(pitchM, wireDiameterM) + wireDiameterM)
    const wire = { relation: 'horizontal cylinder', lengthM: wireDiameterM } as const
    const hull = { relation: 'horizontal cylinder', lengthM: outerM } as const
    return {
      areaM2,
      escape: coilEscape(shape),
      convection(t, room, openness) {
        const alone = areaM2 * convectiveFlux(wire, t, room)
        const closed = Math.min(alone, hullM2 * convectiveFlux(hull, t, room))
        return closed + openness * (alone - closed)
      },
    }
  }
  const areaM2 = Math.PI * shape.diameterM * shape.lengthM
  const relation = { relation: 'horizontal cylinder', lengthM: shape.diameterM } as const
  return { areaM2, escape: 1, convection: (t, room) => areaM2 * convectiveFlux(relation, t, room) }
}
