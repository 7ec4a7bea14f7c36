import type { LampInput, LampRating } from '../../physics/lamps.ts'
import { RATED_LAMPS } from '../../physics/lamps.ts'
import { type MeterReading, POCKET_METER } from '../../physics/meters.ts'
import type { PhaseCut } from '../../physics/phase-cut.ts'
import { kelvinFromCelsius } from '../../physics/units.ts'
import type { LampData } from './kit-data.ts'

/** What the meters show, as typed: the digits say how fine the display is. */
export interface TypedText {
  readonly volts: string
  readonly amperes: string
  readonly watts: string
  readonly coldOhms: string
}

export interface LampForm {
  readonly name: string
  readonly method: LampInput['method']
  /** By resistance: the second meter. */
  readonly second: 'amperes' | 'watts'
  readonly lamp: LampData
  /** Of the lamp when cold, K. */
  readonly roomK: number
  /** Rating of the dimmer, W; null where there is none or nobody has said. */
  readonly dimmerWatts: number | null
  readonly typed: TypedText
}

export const NOTHING_TYPED: TypedText = { volts: '', amperes: '', watts: '', coldOhms: '' }

const METERS: LampData['meters'] = {
  volts: POCKET_METER.acVolts,
  amperes: POCKET_METER.amperes,
  watts: POCKET_METER.plugInWatts,
  ohms: POCKET_METER.ohms,
}

export const FIRST_FORM: LampForm = {
  name: '',
  method: 'rated',
  second: 'amperes',
  lamp: {
    rating: RATED_LAMPS['general-service'],
    ratingKind: 'general-service',
    ratedVolts: null,
    ratedWatts: null,
    cold: null,
    meters: METERS,
    supply: { kind: 'whole' },
  },
  roomK: kelvinFromCelsius(20),
  dimmerWatts: null,
  typed: NOTHING_TYPED,
}

/** A lamp of the kit, with the meters cleared for a new setting. */
export function formOfLamp(name: string, lamp: LampData): LampForm {
  return {
    ...FIRST_FORM,
    name,
    lamp,
    method: lamp.cold
      ? 'resistance'
      : lamp.ratedVolts
        ? 'volts'
        : lamp.ratedWatts
          ? 'watts'
          : 'rated',
    roomK: lamp.cold?.temperatureK ?? FIRST_FORM.roomK,
    typed: { ...NOTHING_TYPED, coldOhms: lamp.cold ? shown(lamp.cold.ohms) : '' },
  }
}

const decimalsOf = (resolution: number): number =>
  resolution > 0 ? Math.max(0, Math.round(-Math.log10(resolution))) : 0
const shown = ({ value, resolution }: MeterReading): string => value.toFixed(decimalsOf(resolution))

/** The rating of a kind of lamp; one that is stated keeps what it was. */
export function ratingOf(kind: LampData['ratingKind'], before: LampRating): LampRating {
  return kind === 'stated' ? before : RATED_LAMPS[kind]
}

/** "12.30" is 12.3 on a display of two decimals; null where it is no number. */
export function readDisplay(
  text: string,
  accuracy: { readonly percentOfReading: number; readonly digits: number },
): MeterReading | null {
  const plain = text.trim().replace(',', '.')
  const value = Number(plain)
  if (plain === '' || !Number.isFinite(value)) return null
  const decimals = /\.(\d+)$/.exec(plain)?.[1]?.length ?? 0
  return { value, ...accuracy, resolution: 10 ** -decimals }
}

/** What is still to be typed before the lamp has a temperature. */
export type MissingLampEntry = 'ratedVolts' | 'ratedWatts' | keyof TypedText

export function meterReadingsOf({ typed, lamp }: LampForm) {
  return {
    volts: readDisplay(typed.volts, lamp.meters.volts),
    amperes: readDisplay(typed.amperes, lamp.meters.amperes),
    watts: readDisplay(typed.watts, lamp.meters.watts),
    coldOhms: readDisplay(typed.coldOhms, lamp.meters.ohms),
  }
}

/** The form as the computation wants it, or what is missing. */
export function lampInputOf(
  form: LampForm,
): LampInput | { readonly missing: readonly MissingLampEntry[] } {
  const { method, second, lamp, roomK } = form
  const { volts, amperes, watts, coldOhms } = meterReadingsOf(form)
  const { rating, ratedVolts, ratedWatts, supply } = lamp
  const phaseCut: { phaseCut?: PhaseCut } =
    supply.kind === 'cut'
      ? { phaseCut: { meter: supply.meter, supplyVolts: supply.supplyVolts } }
      : {}
  switch (method) {
    case 'rated':
      return { method, rating }
    case 'volts':
      if (volts && ratedVolts) return { method, rating, ratedVolts, volts, ...phaseCut }
      return missing({ ratedVolts, volts })
    case 'watts':
      if (watts && ratedWatts) return { method, rating, ratedWatts, watts }
      return missing({ ratedWatts, watts })
    case 'resistance': {
      if (volts && coldOhms && second === 'amperes' && amperes)
        return { method, volts, with: { amperes }, coldOhms, roomTemperatureK: roomK, ...phaseCut }
      if (volts && coldOhms && second === 'watts' && watts)
        return { method, volts, with: { watts }, coldOhms, roomTemperatureK: roomK, ...phaseCut }
      return missing(
        second === 'amperes' ? { coldOhms, volts, amperes } : { coldOhms, volts, watts },
      )
    }
  }
}

const missing = (
  needed: Partial<Record<MissingLampEntry, unknown>>,
): { missing: readonly MissingLampEntry[] } => ({
  missing: (Object.keys(needed) as MissingLampEntry[]).filter((name) => !needed[name]),
})

/** What of the form belongs to the lamp itself. */
export function lampToKeep(form: LampForm): LampData {
  const ohms = meterReadingsOf(form).coldOhms
  return {
    ...form.lamp,
    cold: ohms && ohms.value > 0 ? { ohms, temperatureK: form.roomK } : null,
  }
}
