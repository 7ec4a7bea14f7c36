import { type Estimate, type Material, totalEmissivity } from '../materials.ts'
import { type MeterReading, meterStandardUncertainty } from '../meters.ts'
import { phaseCutAddition } from '../phase-cut.ts'
import {
  propagateUncertainty,
  rectangularUncertainty,
  type UncertainInput,
  type UncertaintyContribution,
} from '../uncertainty.ts'
import { AIR_RANGE_K } from './air.ts'
import {
  balanceTemperature,
  type Losses,
  lossesAt,
  type Surroundings,
  totalLoss,
} from './balance.ts'
import { CONVECTION_RELATIVE_UNCERTAINTY } from './natural-convection.ts'
import { bodyOf, type GlowingShape } from './shape.ts'
import { contradiction, type Supply, supplyPower, type TwoPowers } from './supply-power.ts'
import { COIL_ESCAPE_RELATIVE_UNCERTAINTY } from './view-factor.ts'

/** Every number of a shape with its standard uncertainty; `shape` and whole turns are exact. */
export type MeasuredShape = {
  readonly shape: GlowingShape['shape']
} & Readonly<Partial<Record<ShapeTerm, Estimate>>>

export type ShapeTerm =
  | 'lengthM'
  | 'diameterM'
  | 'wireDiameterM'
  | 'coilDiameterM'
  | 'pitchM'
  | 'turns'
  | 'widthM'
  | 'thicknessM'

const TERMS_OF: Readonly<Record<GlowingShape['shape'], readonly ShapeTerm[]>> = {
  wire: ['lengthM', 'diameterM'],
  rod: ['lengthM', 'diameterM'],
  coil: ['wireDiameterM', 'coilDiameterM', 'pitchM', 'turns'],
  ribbon: ['lengthM', 'widthM', 'thicknessM'],
}

export interface SupplyInput {
  readonly object: MeasuredShape
  /** A material with a known total emissivity, or a total emissivity stated by the user. */
  readonly surface: Material | Estimate
  readonly supply: Supply
  /** Share of the power that the glowing part takes; 1 +- 0 when left out. */
  readonly glowingShare?: Estimate
  readonly room: Estimate
  /** Share of the outward view that a shield takes, and its temperature where known. */
  readonly shield?: {
    readonly share: Estimate
    readonly temperature?: Estimate
    /** See Shield.airShare. */
    readonly airShare?: number
  }
}

export type SupplyTerm =
  | ShapeTerm
  | 'watts'
  | 'volts'
  | 'amperes'
  | 'phase cut'
  | 'glowing share'
  | 'emissivity'
  | 'room'
  | 'convection'
  | 'coil convection'
  | 'coil self view'
  | 'shield share'
  | 'shield temperature'

/**
 * - not positive: a measure, a power or the room is not above 0 (named)
 * - measure missing: the shape lacks a number (named)
 * - share out of range: a share or emissivity is not within 0..1 (named)
 * - turns overlap: the pitch is smaller than the wire
 * - emissivity unknown: no total emissivity is sourced for this surface; state one
 * - power too high: no steady temperature up to 4500 K
 * - supply contradicts: watts, and volts times amperes, cannot both be true
 */
export type SupplyRefusalCode =
  | 'not positive'
  | 'measure missing'
  | 'share out of range'
  | 'turns overlap'
  | 'emissivity unknown'
  | 'power too high'
  | 'supply contradicts'

export interface SupplyRefusal {
  readonly ok: false
  readonly code: SupplyRefusalCode
  readonly term?: SupplyTerm
  /** For a contradiction: what either way says, W. */
  readonly power?: TwoPowers
}

export interface SupplyTemperature extends Losses {
  readonly ok: true
  readonly temperatureK: number
  readonly standardUncertaintyK: number
  /** Largest first, K; the first is the term to name. */
  readonly contributions: readonly UncertaintyContribution<SupplyTerm>[]
  /** Power of the glowing part, W: equals the sum of the three losses. */
  readonly powerW: number
  /** Of that power, by the meters and the share that glows, W. */
  readonly powerUncertaintyW: number
  /** Total emissivity used. */
  readonly emissivity: number
  /** View factor to what is not the object itself; 1 for straight pieces. */
  readonly escape: number
  /** The film of air was hotter than the table of air; its last values were held. */
  readonly filmBeyondTable: boolean
}

/**
 * Temperature at which a glowing wire, coil, ribbon or rod gives to the room what the supply puts
 * into it, with every input's uncertainty propagated.
 *
 * Worked through in tests/physics/heat-balance/supply-temperature.test.ts.
 * Source: Stefan-Boltzmann; Churchill & Chu 1975; JCGM 100:2008 for the uncertainty.
 */
export function supplyTemperature(input: SupplyInput): SupplyTemperature | SupplyRefusal {
  const refusal = refuse(input)
  if (refusal) return refusal
  const nominal = solve(input, new Map())
  if (nominal === undefined) return { ok: false, code: 'power too high' }
  const inputs = inputsOf(input, nominal.temperatureK)
  const spread = propagateUncertainty((values) => {
    const moved = new Map(inputs.map(({ code }, i) => [code, values[i]!]))
    return solve(input, moved)?.temperatureK ?? Number.NaN
  }, inputs)
  const power = propagateUncertainty((values) => {
    const moved = new Map(inputs.map(({ code }, i) => [code, values[i]!]))
    return glowingPower(input, (code, value) => moved.get(code) ?? value)
  }, inputs)
  return {
    ok: true,
    ...nominal,
    powerUncertaintyW: power.standardUncertainty,
    standardUncertaintyK: spread.standardUncertainty,
    contributions: spread.contributions,
    filmBeyondTable: (nominal.temperatureK + input.room.value) / 2 > AIR_RANGE_K[1],
  }
}

type Moved = ReadonlyMap<SupplyTerm, number>

function solve(input: SupplyInput, moved: Moved) {
  const at = (code: SupplyTerm, nominal: number): number => moved.get(code) ?? nominal
  const body = bodyOf(shapeWith(input.object, at))
  const escaping = { ...body, escape: Math.min(1, body.escape * at('coil self view', 1)) }
  const around = surroundings(input, at)
  const shift = at('emissivity', 0)
  const emissivity = (t: number): number =>
    Math.min(1, Math.max(0.01, (surfaceEmissivity(input.surface, t)?.value ?? 0) + shift))
  const powerW = glowingPower(input, at)
  // At the colder of room and shield nothing is lost, so a power above 0 always finds its balance.
  const coldest = Math.min(around.roomK, around.shield?.temperatureK ?? around.roomK)
  const losses = (t: number): Losses => lossesAt(escaping, t, emissivity(t), around)
  const temperatureK = balanceTemperature((t) => totalLoss(losses(t)), powerW, coldest)
  if (temperatureK === undefined) return undefined
  return {
    temperatureK,
    ...losses(temperatureK),
    powerW,
    emissivity: emissivity(temperatureK),
    escape: escaping.escape,
  }
}

type At = (code: SupplyTerm, nominal: number) => number

function shapeWith(object: MeasuredShape, at: At): GlowingShape {
  const numbers = TERMS_OF[object.shape].map((term) => [term, at(term, object[term]!.value)])
  return { shape: object.shape, ...Object.fromEntries(numbers) } as GlowingShape
}

function surroundings({ room, shield }: SupplyInput, at: At): Surroundings {
  const temperatureK = shield?.temperature && at('shield temperature', shield.temperature.value)
  return {
    roomK: at('room', room.value),
    convectionScale: at('convection', 1),
    openness: at('coil convection', 0.5),
    ...(shield && {
      shield: {
        share: at('shield share', shield.share.value),
        ...(temperatureK !== undefined && { temperatureK }),
        ...(shield.airShare !== undefined && { airShare: shield.airShare }),
      },
    }),
  }
}

const glowingPower = ({ supply, glowingShare }: SupplyInput, at: At): number =>
  supplyPower(supply, at) * at('glowing share', glowingShare?.value ?? 1)

const surfaceEmissivity = (surface: Material | Estimate, t: number): Estimate | undefined =>
  'id' in surface ? totalEmissivity(surface, t) : surface

function inputsOf(input: SupplyInput, temperatureK: number): UncertainInput<SupplyTerm>[] {
  const { object, supply, glowingShare, room, shield } = input
  const list: UncertainInput<SupplyTerm>[] = []
  const add = (code: SupplyTerm, { value, standardUncertainty }: Estimate, most?: number) => {
    if (standardUncertainty > 0)
      list.push({
        code,
        value,
        standardUncertainty,
        least: value / 100,
        ...(most !== undefined && { most }),
      })
  }
  const meter = (code: SupplyTerm, reading: MeterReading) =>
    add(code, { value: reading.value, standardUncertainty: meterStandardUncertainty(reading) })
  for (const term of TERMS_OF[object.shape]) add(term, object[term]!)
  if (supply.watts) meter('watts', supply.watts)
  if (supply.volts && supply.amperes) {
    meter('volts', supply.volts)
    meter('amperes', supply.amperes)
    add('phase cut', phaseCutAddition(supply.volts.value, supply.phaseCut))
  }
  if (glowingShare) add('glowing share', glowingShare, 1)
  const { standardUncertainty } = surfaceEmissivity(input.surface, temperatureK)!
  if (standardUncertainty > 0) list.push({ code: 'emissivity', value: 0, standardUncertainty })
  add('room', room)
  add('convection', { value: 1, standardUncertainty: CONVECTION_RELATIVE_UNCERTAINTY })
  if (object.shape === 'coil') {
    const selfView = { value: 1, standardUncertainty: COIL_ESCAPE_RELATIVE_UNCERTAINTY }
    add('coil convection', { value: 0.5, standardUncertainty: rectangularUncertainty(0.5) }, 1)
    add('coil self view', selfView)
  }
  if (shield) add('shield share', shield.share, 0.999)
  if (shield?.temperature) add('shield temperature', shield.temperature)
  return list
}

function refuse(input: SupplyInput): SupplyRefusal | undefined {
  const { object, supply, glowingShare, room, shield, surface } = input
  const positive: [SupplyTerm, number | undefined][] = [['room', room.value]]
  for (const term of TERMS_OF[object.shape]) positive.push([term, object[term]?.value])
  if (supply.watts) positive.push(['watts', supply.watts.value])
  if (!supply.watts || (supply.volts && supply.amperes))
    positive.push(['volts', supply.volts?.value], ['amperes', supply.amperes?.value])
  if (shield?.temperature) positive.push(['shield temperature', shield.temperature.value])
  for (const [term, value] of positive) {
    if (value === undefined) return { ok: false, code: 'measure missing', term }
    if (!(value > 0 && Number.isFinite(value))) return { ok: false, code: 'not positive', term }
  }
  const power = contradiction(supply)
  if (power) return { ok: false, code: 'supply contradicts', power }
  const share = glowingShare?.value ?? 1
  if (!(share > 0 && share <= 1))
    return { ok: false, code: 'share out of range', term: 'glowing share' }
  const covered = shield?.share.value ?? 0
  if (!(covered >= 0 && covered < 1))
    return { ok: false, code: 'share out of range', term: 'shield share' }
  const e = surfaceEmissivity(surface, 1000)
  if (!e) return { ok: false, code: 'emissivity unknown', term: 'emissivity' }
  if (!(e.value > 0 && e.value <= 1))
    return { ok: false, code: 'share out of range', term: 'emissivity' }
  if (object.pitchM && object.wireDiameterM && object.shape === 'coil')
    if (object.pitchM.value < object.wireDiameterM.value)
      return { ok: false, code: 'turns overlap', term: 'pitchM' }
  return undefined
}
