import type { MeasuringStep } from '../../estimate/remaining-uncertainty.ts'
import type { AlloyAnswer } from '../../physics/alloy.ts'
import type { BrightnessTerm } from '../../physics/brightness.ts'
import type { ChangeVerdict } from '../../physics/heat-balance/supply-change.ts'
import type {
  ShapeTerm,
  SupplyRefusal,
  SupplyTerm,
} from '../../physics/heat-balance/supply-temperature.ts'
import type { Estimate } from '../../physics/materials.ts'
import type { ElementId } from '../../session/check/elements.ts'
import { plainNumber } from '../plain-number.ts'
import type { Notice } from './estimate.ts'

export const CHECK_PARTS = {
  consensus: {
    name: 'All readings of one piece',
    line: 'All that was read of one object side by side: does it agree?',
  },
  supply: { name: 'Supply power', line: 'Which temperature the supply can hold.' },
  brightness: { name: 'Brightness', line: 'Against a reading of known temperature.' },
  change: { name: 'Change with supply', line: 'Do two readings differ as they should?' },
  remaining: {
    name: 'Where does the rest come from?',
    line: 'What the ± of a camera is made of, and what the next step would bring.',
  },
  alloy: { name: 'Which alloy', line: 'A magnet and the cold resistance.' },
} as const
export type CheckPart = keyof typeof CHECK_PARTS

export const MEASURING_STEP_WORDS: Record<MeasuringStep, string> = {
  'straight light': 'Raw photos or a sweep',
  lock: 'White balance locked',
  'grey card': 'A grey card in daylight',
  salt: 'Locked, and salt as it melts',
  'salt as bright':
    'Salt in the exposure and place of the readings, raw or sweep: brightness joins',
  copper: 'Locked, and copper as it melts',
  hole: 'Reading a drilled hole',
}

export const ELEMENT_NAMES: Record<ElementId, string> = {
  wire: 'Bare wire, straight',
  coil: 'Coil, open',
  'coil in quartz': 'Coil in a quartz tube',
  'coil in groove': 'Coil in a groove or slot',
  ribbon: 'Flat ribbon',
  sheath: 'In a metal sheath (the sheath glows)',
}

export const TERM_WORDS: Record<SupplyTerm, string> = {
  lengthM: 'Length',
  diameterM: 'Diameter',
  wireDiameterM: 'Wire diameter',
  coilDiameterM: 'Coil diameter, middle of the wire',
  pitchM: 'Pitch, turn to turn',
  turns: 'Turns',
  widthM: 'Width',
  thicknessM: 'Thickness',
  watts: 'Watts',
  volts: 'Volts',
  amperes: 'Amperes',
  'phase cut': 'Dimmer that cuts the wave',
  'glowing share': 'Share of the power that glows',
  emissivity: 'Total emissivity',
  room: 'Room temperature',
  convection: 'Convection',
  'coil convection': 'Convection inside the coil',
  'coil self view': 'Coil seeing itself',
  'shield share': 'Cover',
  'shield temperature': 'Temperature of the cover',
}

export const BRIGHTNESS_TERMS: Record<BrightnessTerm, string> = {
  level: 'Level of this glow',
  'reference level': 'Level of the reference',
  'reference temperature': 'Temperature of the reference',
  exposure: 'Exposure settings',
  emissivity: 'Emissivity here',
  'reference emissivity': 'Emissivity of the reference',
  band: 'The camera’s red',
}

const watts = ({ value, standardUncertainty: u }: Estimate) =>
  `${plainNumber(value, 2 * u)} ± ${plainNumber(2 * u)} W`

export function supplyRefusalNotice({ code, term, power }: SupplyRefusal): Notice {
  const named = term ? TERM_WORDS[term] : 'A value'
  const weight = 'note'
  switch (code) {
    case 'measure missing':
      return { weight, title: `${named} is missing`, todo: 'Enter it, with its ±.' }
    case 'not positive':
      return { weight, title: `${named} must be above 0`, todo: 'Measure it again.' }
    case 'share out of range':
      return {
        weight,
        title: `${named} must lie between 0 and 1`,
        todo: 'Enter a share, such as 0.9.',
      }
    case 'turns overlap':
      return {
        weight,
        title: 'The turns overlap',
        todo: 'The pitch is smaller than the wire. Measure from turn to turn, middle to middle.',
      }
    case 'emissivity unknown':
      return {
        weight,
        title: 'No total emissivity is known for this surface',
        todo: 'Choose another surface, or state a value yourself.',
      }
    case 'supply contradicts':
      return {
        weight: 'stop',
        title: power
          ? `Volts times amperes are ${watts(power.byVoltsAndAmperes)}, the wattmeter says ${watts(power.byWatts)}`
          : 'Watts, volts and amperes contradict each other',
        todo: 'Both cannot be true. A dimmer, a range of the meter, or leads between them? Leave the wrong one out.',
      }
    case 'power too high':
      return {
        weight: 'stop',
        title: 'No steady temperature up to 4500 K',
        todo: 'So much power would melt it. Check the measures and the power.',
      }
  }
}

export const CHANGE_WORDS: Record<ChangeVerdict, Notice> = {
  agrees: {
    weight: 'note',
    title: 'They change as the supply says they should',
    todo: 'That speaks for the readings, though not for what both share.',
  },
  'changes too little': {
    weight: 'warn',
    title: 'They change too little',
    todo: 'Stray light, clipping or a tone curve holds readings together. Sweep, or darken the shop.',
  },
  'changes too much': {
    weight: 'warn',
    title: 'They change too much',
    todo: 'A contrasty tone curve pulls readings apart. Sweep or use raw photos, and check the meter.',
  },
  'too close to tell': {
    weight: 'note',
    title: 'Too close to tell',
    todo: 'The expected change is smaller than what could be seen. Change the supply by more.',
  },
}

export function alloyWords(answer: AlloyAnswer): string {
  switch (answer.verdict) {
    case 'one left':
      return 'This is left:'
    case 'several left':
      return 'These are left, best first:'
    case 'none left':
      return 'Nothing in the list fits. Measure again: leads off, cold wire, diameter without scale.'
  }
}

export const MEASURES: Record<ShapeTerm, 'mm' | 'count'> = {
  lengthM: 'mm',
  diameterM: 'mm',
  wireDiameterM: 'mm',
  coilDiameterM: 'mm',
  pitchM: 'mm',
  widthM: 'mm',
  thicknessM: 'mm',
  turns: 'count',
}
