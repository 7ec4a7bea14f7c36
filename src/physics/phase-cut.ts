import { rectangularUncertainty } from './uncertainty.ts'

/** How a voltmeter finds the effective value of a wave that is not a sine. */
export type MeterKind = 'true-rms' | 'average-responding' | 'unknown'

/**
 * Effective (rms) value of a phase-cut sine whose rectified mean a simple meter shows, scaled for
 * a sine. The mean fixes the firing angle a, and the angle the effective value:
 * shown / supply = (1 + cos a) / 2, (rms / supply)^2 = 1 - a/pi + sin(2a) / (2 pi).
 *
 * @param shown value on the average-responding meter, same unit as supply
 * @param supply effective value of the whole sine, e.g. 230 V
 * @returns between shown and supply; shown itself where it is not within 0..supply
 * Source: integrals of a sine from the firing angle to pi (leading or trailing edge alike).
 */
export function phaseCutRms(shown: number, supply: number): number {
  if (!(shown > 0 && shown < supply)) return shown
  const angle = Math.acos((2 * shown) / supply - 1)
  return supply * Math.sqrt(1 - angle / Math.PI + Math.sin(2 * angle) / (2 * Math.PI))
}

/** A load on a mains dimmer that cuts the wave, with the kind of voltmeter used. */
export interface PhaseCut {
  readonly meter: MeterKind
  /** Effective value of the uncut supply, V. */
  readonly supplyVolts: number
}

/**
 * What a cut wave adds to the volts shown, with its standard uncertainty, V.
 * - true rms: nothing; average-responding: the correction, a quarter of it kept as spread, since a
 *   real dimmer's wave is not an ideal cut sine; unknown: anything from nothing to the correction
 *
 * @param overAmperes the volts are divided by amperes: the form factor then cancels when both meters
 *   are of one kind, and may be off either way when that is unknown
 */
export function phaseCutAddition(
  shownVolts: number,
  phaseCut: PhaseCut | undefined,
  overAmperes = false,
): { readonly value: number; readonly standardUncertainty: number } {
  if (!phaseCut || phaseCut.meter === 'true-rms') return { value: 0, standardUncertainty: 0 }
  const gap = phaseCutRms(shownVolts, phaseCut.supplyVolts) - shownVolts
  const known = phaseCut.meter === 'average-responding'
  if (overAmperes) return { value: 0, standardUncertainty: known ? 0 : rectangularUncertainty(gap) }
  return known
    ? { value: gap, standardUncertainty: gap / 4 }
    : { value: gap / 2, standardUncertainty: rectangularUncertainty(gap / 2) }
}
