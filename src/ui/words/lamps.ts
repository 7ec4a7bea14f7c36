import type { LampTargetId } from '../../physics/lamp-targets.ts'
import type { LampInput, LampRefusal, LampTerm } from '../../physics/lamps.ts'
import type { MeterKind } from '../../physics/phase-cut.ts'
import { roundTemperature } from '../temperature.ts'

export const LAMP_METHODS: Record<LampInput['method'], { name: string; line: string }> = {
  rated: { name: 'Rated', line: 'At its rated volts, nothing measured.' },
  volts: { name: 'Volts', line: 'Volts against rated volts.' },
  watts: { name: 'Watts', line: 'Watts against rated watts. True on any dimmer.' },
  resistance: {
    name: 'Ohms',
    line: 'Hot resistance against cold resistance: the surest, it asks the filament itself.',
  },
}

export const LAMP_KINDS = {
  'general-service': 'Filament lamp, general service',
  halogen: 'Halogen lamp',
  stated: 'Stated on the lamp or its sheet',
} as const

export const LAMP_TARGET_WORDS: Record<LampTargetId, string> = {
  'frosted-bulb': 'The lamp’s frosted bulb',
  'grey-card': 'A grey card lit by this lamp alone',
  'white-paper': 'White paper lit by this lamp alone',
  filament: 'The bare filament (thin: go close)',
}

export const METER_KINDS: Record<MeterKind, string> = {
  'true-rms': 'True RMS',
  'average-responding': 'Simple, for sine only',
  unknown: 'I do not know',
}

export const LAMP_CAUTIONS = ['lamp meters', 'lamp cold', 'lamp hot'] as const

export const LAMP_STEPS: readonly string[] = [
  'Filament or halogen lamp with clear or frosted glass. No LED, no coloured bulb.',
  'Dark room: this lamp is the only light.',
  'Let it burn two minutes, then read the meters.',
  'Same camera and white-balance lock as for the glow. Expose less until nothing clips.',
]

export const PHASE_CUT_WORDS =
  'A mains dimmer cuts the wave. A simple voltmeter then shows too little: the volts are corrected and their ± widened. Watts stay right.'

export const LAMP_TERM_WORDS: Record<LampTerm, string> = {
  'rated value': 'Lamps differ from their rating',
  'rating law volts': 'Rating law, volts',
  'rating law power': 'Rating law, watts',
  volts: 'Voltmeter',
  amperes: 'Ammeter',
  watts: 'Wattmeter',
  'rated watts': 'Rated watts',
  'cold ohms': 'Cold resistance',
  room: 'Temperature when cold',
  'phase cut': 'Cut wave of the dimmer',
  'tungsten table': 'Tungsten’s resistance',
  'end cooling': 'Cooler ends of the filament',
  emissivity: 'Tungsten’s emissivity',
}

export function lampRefusalSentence(
  { code, given, allowed }: LampRefusal,
  show: (temperatureK: number) => string,
): string {
  switch (code) {
    case 'not positive':
      return `${given} was given; every value must be above 0.`
    case 'rating ratio out of range':
      return `This is ${(100 * given).toFixed(0)} % of the rated value. The rating law holds from ${(100 * allowed[0]).toFixed(0)} to ${(100 * allowed[1]).toFixed(0)} %: check the values, or use ohms.`
    case 'not cold':
      return `The cold lamp must be at room temperature, ${show(allowed[0])} to ${show(allowed[1])}; ${show(given)} was given.`
    case 'filament too cold':
      return `That would be ${given.toFixed(0)} K: too dull to photograph. Turn the lamp up, or check the values.`
    case 'filament too hot':
      return `That would be ${given.toFixed(0)} K: no filament lives there. Check the values and units.`
  }
}

export const LAMP_FIELDS = {
  ratedVolts: 'Rated volts, V',
  ratedWatts: 'Rated watts, W',
  volts: 'Volts now, V',
  amperes: 'Amperes now, A',
  watts: 'Watts now, W',
  coldOhms: 'Cold resistance, Ω',
} as const

export const METER_NAMES = {
  volts: 'Voltmeter',
  amperes: 'Ammeter',
  watts: 'Wattmeter',
  ohms: 'Ohmmeter',
} as const

/** "2700 ± 140 K": a colour temperature is a matter of kelvin, whatever the unit of heat. */
export function colourTemperatureWords(temperatureK: number, standardUncertaintyK: number): string {
  const { value, plusMinus } = roundTemperature(temperatureK, 2 * standardUncertaintyK, 'K')
  return `${value} ± ${plusMinus} K`
}
