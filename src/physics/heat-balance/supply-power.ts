import type { Estimate } from '../materials.ts'
import { type MeterReading, meterStandardUncertainty } from '../meters.ts'
import { type PhaseCut, phaseCutAddition } from '../phase-cut.ts'

/**
 * Power into the circuit: true power, volts and amperes of a resistive load, or all three, which then
 * check each other.
 */
export interface Supply {
  readonly watts?: MeterReading
  readonly volts?: MeterReading
  readonly amperes?: MeterReading
  /** On a dimmer that cuts the wave volts and amperes read low by the same factor. */
  readonly phaseCut?: PhaseCut
}

export type PowerTerm = 'watts' | 'volts' | 'amperes' | 'phase cut'

/** A number of the supply, as it is or moved for the propagation of its uncertainty. */
type At = (code: PowerTerm, nominal: number) => number

/** True power; where it is known twice, both weighted by their inverse variances. */
export function supplyPower(supply: Supply, at: At): number {
  const byWatts = supply.watts ? at('watts', supply.watts.value) : null
  const byBoth = voltAmperes(supply, at)
  if (byWatts === null || byBoth === null) return byWatts ?? byBoth ?? Number.NaN
  const { watts, both } = knownTwice(supply)!
  const share = both.standardUncertainty ** 2
  const ofWatts = watts.standardUncertainty ** 2
  const weight = share + ofWatts > 0 ? share / (share + ofWatts) : 0.5
  return weight * byWatts + (1 - weight) * byBoth
}

function voltAmperes({ volts, amperes, phaseCut }: Supply, at: At): number | null {
  if (!volts || !amperes) return null
  const cut = at('phase cut', phaseCutAddition(volts.value, phaseCut).value)
  return at('volts', volts.value) * at('amperes', amperes.value) * (1 + cut / volts.value) ** 2
}

/** Power by either way, each with its uncertainty; null where it is known once. */
function knownTwice(supply: Supply): { readonly watts: Estimate; readonly both: Estimate } | null {
  const { watts, volts, amperes, phaseCut } = supply
  const value = voltAmperes(supply, (_, nominal) => nominal)
  if (!watts || !volts || !amperes || value === null) return null
  const cut = phaseCutAddition(volts.value, phaseCut).standardUncertainty
  const relative = Math.hypot(
    meterStandardUncertainty(volts) / volts.value,
    meterStandardUncertainty(amperes) / amperes.value,
    (2 * cut) / volts.value,
  )
  return {
    watts: { value: watts.value, standardUncertainty: meterStandardUncertainty(watts) },
    both: { value, standardUncertainty: relative * value },
  }
}

/** Power by either way, W. */
export interface TwoPowers {
  readonly byWatts: Estimate
  readonly byVoltsAndAmperes: Estimate
}

/** Beyond this many standard uncertainties two powers of one circuit cannot both be true. */
const CONTRADICTION = 3

/** What either way says, where both cannot be true; else null. */
export function contradiction(supply: Supply): TwoPowers | null {
  const twice = knownTwice(supply)
  if (!twice) return null
  const { watts, both } = twice
  const spread = Math.hypot(watts.standardUncertainty, both.standardUncertainty)
  if (Math.abs(watts.value - both.value) <= CONTRADICTION * spread) return null
  return { byWatts: watts, byVoltsAndAmperes: both }
}
