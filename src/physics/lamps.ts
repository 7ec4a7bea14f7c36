import { type MeterReading, meterStandardUncertainty } from './meters.ts'
import { type PhaseCut, phaseCutAddition } from './phase-cut.ts'
import {
  TUNGSTEN_RESISTANCE_RATIO_RELATIVE_UNCERTAINTY,
  tungstenColourTemperature,
  tungstenResistanceRatio,
  tungstenTemperatureFromResistanceRatio,
  tungstenTrueFromColour,
} from './tungsten.ts'
import {
  propagateUncertainty,
  rectangularUncertainty,
  type UncertainInput,
  type UncertaintyContribution,
} from './uncertainty.ts'

/**
 * Exponent of colour temperature against volts, T / T0 = (V / V0)^0.42.
 * Source: IES Lighting Handbook, lamp re-rating. The spread is what the tungsten tables give for
 * filaments that lose 20 to 33 % of their power to gas; small vacuum lamps follow 0.35.
 */
export const VOLTS_EXPONENT = { value: 0.42, standardUncertainty: 0.03 } as const
/** Exponent of power against volts, P / P0 = (V / V0)^1.6. Source: IES Lighting Handbook. */
export const POWER_EXPONENT = { value: 1.6, standardUncertainty: 0.05 } as const

/** The rating laws are used for V / V0 within these bounds; below, the filament barely glows. */
export const VOLTS_RATIO_RANGE = [0.2, 1.2] as const
/** The same for P / P0: the bounds of volts to the power 1.6. */
export const POWER_RATIO_RANGE = [0.08, 1.34] as const
/** The cold lamp must lie at an ordinary room's temperature, K. */
export const COLD_LAMP_RANGE_K = [250, 325] as const
/**
 * Filaments outside these colour temperatures are refused: no light below, no lamp withstands more.
 */
export const LAMP_COLOUR_RANGE_K = [1000, 3450] as const

/** Common practice: colour temperature at rated volts, K, with the spread among lamps. */
export const RATED_LAMPS = {
  'general-service': { colourTemperatureK: 2700, standardUncertaintyK: 40 },
  halogen: { colourTemperatureK: 3000, standardUncertaintyK: 50 },
} as const

/** What the label says, or what is common for lamps of its kind. */
export interface LampRating {
  readonly colourTemperatureK: number
  readonly standardUncertaintyK: number
}

export interface RatedLamp {
  readonly method: 'rated'
  readonly rating: LampRating
}

export interface LampByVolts {
  readonly method: 'volts'
  readonly rating: LampRating
  readonly ratedVolts: number
  readonly volts: MeterReading
  readonly phaseCut?: PhaseCut
}

export interface LampByWatts {
  readonly method: 'watts'
  readonly rating: LampRating
  readonly ratedWatts: number
  /** Spread of the rated power among lamps, percent, standard; common practice 3. */
  readonly ratedWattsPercent?: number
  /** True power. A wattmeter keeps it right on a phase-cut dimmer too. */
  readonly watts: MeterReading
}

export interface LampByResistance {
  readonly method: 'resistance'
  readonly volts: MeterReading
  /** V/I, or V^2/P with true power. */
  readonly with: { readonly amperes: MeterReading } | { readonly watts: MeterReading }
  /** Resistance of the lamp alone and cold, test leads taken off, ohm. */
  readonly coldOhms: MeterReading
  /** Temperature of the lamp when cold, K, with its standard uncertainty (1 K when not stated). */
  readonly roomTemperatureK: number
  readonly roomUncertaintyK?: number
  readonly phaseCut?: PhaseCut
}

export type LampInput = RatedLamp | LampByVolts | LampByWatts | LampByResistance

/**
 * Terms of a lamp's uncertainty.
 * - rated value: spread of lamps about their label; rating law: exponents of the IES relations
 * - volts, amperes, watts, cold ohms: meters; room: temperature of the cold lamp
 * - phase cut: what a simple voltmeter shows on a cut wave
 * - tungsten table: resistance ratio; end cooling: filament ends cooler than the middle
 * - emissivity: from true to colour temperature, blackened by the coil's own windings
 */
export type LampTerm =
  | 'rated value'
  | 'rating law volts'
  | 'rating law power'
  | 'volts'
  | 'amperes'
  | 'watts'
  | 'rated watts'
  | 'cold ohms'
  | 'room'
  | 'phase cut'
  | 'tungsten table'
  | 'end cooling'
  | 'emissivity'

/**
 * Why a lamp has no temperature.
 * - not positive: a quantity must be above 0
 * - rating ratio out of range: too far from rated for the law
 * - not cold: the lamp must be at room temperature for its cold resistance, K
 * - filament too cold, filament too hot: below visible glow, or above what any lamp survives
 */
export type LampRefusalCode =
  | 'not positive'
  | 'rating ratio out of range'
  | 'not cold'
  | 'filament too cold'
  | 'filament too hot'

export interface LampRefusal {
  readonly ok: false
  readonly code: LampRefusalCode
  readonly given: number
  readonly allowed: readonly [number, number]
}

export interface LampTemperature {
  readonly ok: true
  /** What a camera sees: the colour temperature of the filament, K. */
  readonly colourTemperatureK: number
  /** The metal's own temperature, K. */
  readonly trueTemperatureK: number
  /** Of the colour temperature, K. */
  readonly standardUncertaintyK: number
  /** Largest first, K. */
  readonly contributions: readonly UncertaintyContribution<LampTerm>[]
}

/**
 * Colour temperature and true temperature of a filament lamp, with their uncertainty.
 *
 * @param lamp rated value, volts or watts against rated ones, or hot against cold resistance (the
 *   most accurate). Meters' stated accuracy and lamps' spread are propagated
 * @returns the temperatures, or a refusal that says what was given and what is allowed
 * Source: IES Lighting Handbook (re-rating); tungsten tables for resistance and emissivity.
 */
export function lampTemperature(lamp: LampInput): LampTemperature | LampRefusal {
  const refusal = refuseInput(lamp)
  if (refusal) return refusal
  const { model, inputs } = describe(lamp)
  const colour = propagateUncertainty(model, inputs)
  const [coldest, hottest] = LAMP_COLOUR_RANGE_K
  if (!(colour.value >= coldest && colour.value <= hottest))
    return {
      ok: false,
      code: colour.value > hottest ? 'filament too hot' : 'filament too cold',
      given: colour.value,
      allowed: LAMP_COLOUR_RANGE_K,
    }
  return {
    ok: true,
    colourTemperatureK: colour.value,
    trueTemperatureK: tungstenTrueFromColour(colour.value),
    standardUncertaintyK: colour.standardUncertainty,
    contributions: colour.contributions,
  }
}

interface Model {
  readonly model: (values: readonly number[]) => number
  readonly inputs: readonly UncertainInput<LampTerm>[]
}

function describe(lamp: LampInput): Model {
  if (lamp.method === 'resistance') return resistanceModel(lamp)
  const rated: UncertainInput<LampTerm> = {
    code: 'rated value',
    value: lamp.rating.colourTemperatureK,
    standardUncertainty: lamp.rating.standardUncertaintyK,
  }
  const exponent: UncertainInput<LampTerm> = { code: 'rating law volts', ...VOLTS_EXPONENT }
  if (lamp.method === 'rated') return { model: ([t]) => t!, inputs: [rated] }
  if (lamp.method === 'volts') {
    return {
      model: ([t, n, v, extra]) => t! * (Math.max(v! + extra!, 0) / lamp.ratedVolts) ** n!,
      inputs: [
        rated,
        exponent,
        meterInput('volts', lamp.volts),
        { code: 'phase cut', ...phaseCutAddition(lamp.volts.value, lamp.phaseCut) },
      ],
    }
  }
  const ratedWatts = (lamp.ratedWatts * (lamp.ratedWattsPercent ?? 3)) / 100
  return {
    model: ([t, n, m, p, p0]) => t! * (Math.max(p!, 0) / p0!) ** (n! / m!),
    inputs: [
      rated,
      exponent,
      { code: 'rating law power', ...POWER_EXPONENT },
      meterInput('watts', lamp.watts),
      { code: 'rated watts', value: lamp.ratedWatts, standardUncertainty: ratedWatts },
    ],
  }
}

function resistanceModel(lamp: LampByResistance): Model {
  const byAmperes = 'amperes' in lamp.with
  const second = 'amperes' in lamp.with ? lamp.with.amperes : lamp.with.watts
  return {
    model: ([v, extra, x, cold, room, table, ends, blackening]) => {
      const hotOhms = byAmperes ? (v! + extra!) / x! : (v! + extra!) ** 2 / x!
      const ratio = (hotOhms / cold!) * tungstenResistanceRatio(room!) * table!
      const trueK = tungstenTemperatureFromResistanceRatio(ratio) * ends!
      return trueK + blackening! * (tungstenColourTemperature(trueK) - trueK)
    },
    inputs: [
      meterInput('volts', lamp.volts),
      { code: 'phase cut', ...phaseCutAddition(lamp.volts.value, lamp.phaseCut, byAmperes) },
      meterInput(byAmperes ? 'amperes' : 'watts', second),
      meterInput('cold ohms', lamp.coldOhms),
      {
        code: 'room',
        value: lamp.roomTemperatureK,
        standardUncertainty: lamp.roomUncertaintyK ?? 1,
      },
      {
        code: 'tungsten table',
        value: 1,
        standardUncertainty: TUNGSTEN_RESISTANCE_RATIO_RELATIVE_UNCERTAINTY,
      },
      // Two effects of opposite sign and like size, stated and not corrected: the glowing middle is
      // hotter than the mean that resistance gives, by up to 1 % for mains lamps (common practice) ...
      { code: 'end cooling', value: 1, standardUncertainty: rectangularUncertainty(0.01) },
      // ... and between the windings a coil is closer to black, which takes up to a quarter of the
      // difference between true and colour temperature (e = 0.44, a third of the view on itself).
      { code: 'emissivity', value: 1, standardUncertainty: rectangularUncertainty(0.25), least: 0 },
    ],
  }
}

const meterInput = (code: LampTerm, reading: MeterReading): UncertainInput<LampTerm> => ({
  code,
  value: reading.value,
  standardUncertainty: meterStandardUncertainty(reading),
  least: reading.value / 1000,
})

function refuseInput(lamp: LampInput): LampRefusal | undefined {
  const positive: number[] = []
  let ratio: { given: number; allowed: readonly [number, number] } | undefined
  if (lamp.method === 'resistance') {
    const second = 'amperes' in lamp.with ? lamp.with.amperes : lamp.with.watts
    positive.push(lamp.volts.value, second.value, lamp.coldOhms.value, lamp.roomTemperatureK)
  } else {
    positive.push(lamp.rating.colourTemperatureK)
    if (lamp.method === 'volts') {
      positive.push(lamp.volts.value, lamp.ratedVolts)
      const volts = lamp.volts.value + phaseCutAddition(lamp.volts.value, lamp.phaseCut).value
      ratio = { given: volts / lamp.ratedVolts, allowed: VOLTS_RATIO_RANGE }
    }
    if (lamp.method === 'watts') {
      positive.push(lamp.watts.value, lamp.ratedWatts)
      ratio = { given: lamp.watts.value / lamp.ratedWatts, allowed: POWER_RATIO_RANGE }
    }
  }
  const bad = positive.find((value) => !(value > 0 && Number.isFinite(value)))
  if (bad !== undefined)
    return { ok: false, code: 'not positive', given: bad, allowed: [0, Number.POSITIVE_INFINITY] }
  if (lamp.method === 'resistance') {
    const [coldest, warmest] = COLD_LAMP_RANGE_K
    const given = lamp.roomTemperatureK
    if (!(given >= coldest && given <= warmest))
      return { ok: false, code: 'not cold', given, allowed: COLD_LAMP_RANGE_K }
  }
  if (ratio && !(ratio.given >= ratio.allowed[0] && ratio.given <= ratio.allowed[1]))
    return { ok: false, code: 'rating ratio out of range', ...ratio }
  return undefined
}
