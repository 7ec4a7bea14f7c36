import { POWER_EXPONENT, VOLTS_EXPONENT } from '../lamps.ts'
import type { Estimate } from '../materials.ts'
import { propagateUncertainty, rootSumSquare, type UncertainInput } from '../uncertainty.ts'
import { balanceTemperature } from './balance.ts'

/**
 * How temperature follows the supply.
 * - heater: loss = radiation (T^4 - room^4) + convection ((T - room)^1.3), the share of convection
 *   stated for the first reading (common practice 0.1 to 0.4, thin wires most)
 * - lamp: T ~ volts^0.42, T ~ watts^(0.42 / 1.6)
 */
export type ChangeLaw =
  | { readonly kind: 'heater'; readonly roomK: number; readonly convectionShare: Estimate }
  | { readonly kind: 'lamp' }

/** One reading of the object with the supply at that moment. */
export interface SupplyReading {
  readonly temperatureK: number
  /**
   * The part of its uncertainty that is its own, K: noise, spot, moment. What it shares with the
   * other readings (camera, surface) moves both alike and drops out of a comparison of ratios.
   */
  readonly ownUncertaintyK: number
  /** Volts or watts, all readings in the same one. */
  readonly supply: Estimate
  /**
   * Where the readings' common errors are known better than by {@link ownUncertaintyK}: standard
   * uncertainty of the difference to the first reading, K; of the first itself its whole uncertainty.
   */
  readonly jointUncertaintyK?: number
}

/** Exponent of gas convection on the excess temperature at glowing heat, from the balance itself. */
const CONVECTION_EXPONENT = 1.3
/** Standard spread of ln(power) from volts: heating alloys change their resistance by a few %. */
const RESISTANCE_CHANGE = 0.03

/**
 * Temperature expected at another supply from a reading at one.
 *
 * @param quantity what `supply` counts
 * @returns K with its standard uncertainty; NaN where the law gives none
 */
export function predictChange(
  from: SupplyReading,
  supply: Estimate,
  quantity: 'volts' | 'watts',
  law: ChangeLaw,
): Estimate {
  const inputs: UncertainInput[] = [
    { code: 'from', value: from.temperatureK, standardUncertainty: from.ownUncertaintyK },
    { code: 'supply before', ...from.supply, least: from.supply.value / 100 },
    { code: 'supply now', ...supply, least: supply.value / 100 },
  ]
  if (law.kind === 'lamp') {
    inputs.push(
      { code: 'exponent', ...VOLTS_EXPONENT },
      { code: 'power exponent', ...POWER_EXPONENT },
    )
    return propagateUncertainty(([t, before, now, n, m]) => {
      return t! * (now! / before!) ** (quantity === 'volts' ? n! : n! / m!)
    }, inputs)
  }
  // A coefficient of ln(power) that is 1 at no change and grows with it.
  const drift = quantity === 'volts' ? RESISTANCE_CHANGE : 0
  inputs.push({ code: 'convection', ...law.convectionShare, least: 0, most: 1 })
  inputs.push({ code: 'resistance', value: 0, standardUncertainty: drift })
  return propagateUncertainty(([t, before, now, share, change]) => {
    const lnRatio = Math.log(now! / before!)
    const power = Math.exp(lnRatio * (quantity === 'volts' ? 2 : 1) + change! * Math.tanh(lnRatio))
    return heaterTemperature(t!, power, share!, law.roomK)
  }, inputs)
}

/** Temperature at `power` times the power that holds `fromK`. */
function heaterTemperature(fromK: number, power: number, share: number, roomK: number): number {
  const radiation = (t: number) => (t ** 4 - roomK ** 4) / (fromK ** 4 - roomK ** 4)
  const convection = (t: number) => ((t - roomK) / (fromK - roomK)) ** CONVECTION_EXPONENT
  const loss = (t: number) => (1 - share) * radiation(t) + share * convection(t)
  return balanceTemperature(loss, power, roomK) ?? Number.NaN
}

/** d predicted / d temperature at the first supply. */
function slopeOf(
  from: SupplyReading,
  supply: Estimate,
  quantity: 'volts' | 'watts',
  law: ChangeLaw,
): number {
  const at = (temperatureK: number) =>
    predictChange({ ...from, temperatureK }, supply, quantity, law).value
  return (at(from.temperatureK + 1) - at(from.temperatureK - 1)) / 2
}

/** One later reading against what the first one makes expect. */
export interface ChangeStep {
  /** Index among the readings given. */
  readonly index: number
  readonly measuredChangeK: number
  /** Standard, K: what both readings share drops out. */
  readonly measuredUncertaintyK: number
  readonly predictedChangeK: number
  readonly predictedUncertaintyK: number
  /** Of measured minus predicted, K. */
  readonly standardUncertaintyK: number
  /** (measured - predicted) / standard uncertainty. */
  readonly standardisedDifference: number
}

export type ChangeVerdict =
  | 'agrees'
  | 'changes too little'
  | 'changes too much'
  /** The expected changes are smaller than what could be seen. */
  | 'too close to tell'

export interface ChangeComparison {
  readonly steps: readonly ChangeStep[]
  readonly verdict: ChangeVerdict
}

/** Beyond this many standard uncertainties a difference counts (GUM, k = 2). */
const COVERAGE = 2

/**
 * Does the measured temperature follow the supply as it should? A tone curve or stray light makes
 * readings change too little or too much even where each alone looks likely.
 *
 * @param readings at least two, of one object; the first is the base
 * @throws RangeError for fewer than two
 */
export function compareSupplyChange(
  readings: readonly SupplyReading[],
  quantity: 'volts' | 'watts',
  law: ChangeLaw,
): ChangeComparison {
  const [first, ...later] = readings
  if (!first || later.length === 0)
    throw new RangeError(`compareSupplyChange: ${readings.length} readings, at least 2 needed`)
  const steps = later.map((reading, i): ChangeStep => {
    const joint = reading.jointUncertaintyK !== undefined && first.jointUncertaintyK !== undefined
    const from = joint ? { ...first, ownUncertaintyK: 0 } : first
    const expected = predictChange(from, reading.supply, quantity, law)
    // What both share moves the prediction a little more, or less, than the reading.
    const predictedUncertaintyK = joint
      ? rootSumSquare([
          expected.standardUncertainty,
          (slopeOf(from, reading.supply, quantity, law) - 1) * first.jointUncertaintyK,
        ])
      : expected.standardUncertainty
    const ownK = joint ? reading.jointUncertaintyK : reading.ownUncertaintyK
    const standardUncertaintyK = rootSumSquare([predictedUncertaintyK, ownK])
    return {
      index: i + 1,
      measuredChangeK: reading.temperatureK - first.temperatureK,
      measuredUncertaintyK: joint ? ownK : rootSumSquare([first.ownUncertaintyK, ownK]),
      predictedUncertaintyK,
      predictedChangeK: expected.value - first.temperatureK,
      standardUncertaintyK,
      standardisedDifference: (reading.temperatureK - expected.value) / standardUncertaintyK,
    }
  })
  const size = (step: ChangeStep) => Math.abs(step.standardisedDifference)
  const worst = steps.reduce((a, b) => (size(b) > size(a) ? b : a))
  if (size(worst) > COVERAGE) {
    const tooFar = Math.sign(worst.standardisedDifference) === Math.sign(worst.predictedChangeK)
    return { steps, verdict: tooFar ? 'changes too much' : 'changes too little' }
  }
  const visible = steps.some(
    (step) => Math.abs(step.predictedChangeK) > COVERAGE * step.standardUncertaintyK,
  )
  return { steps, verdict: visible ? 'agrees' : 'too close to tell' }
}
