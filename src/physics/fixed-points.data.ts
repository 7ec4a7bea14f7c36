import type { HeatPoint, FixedPoint, FixedPointHazard, FixedPointStep } from './fixed-points.ts'
import { kelvinFromCelsius } from './units.ts'

const at = (celsius: number, standardUncertaintyK: number, source: string): HeatPoint => ({
  temperatureK: kelvinFromCelsius(celsius), standardUncertaintyK, source,
})

// Roberts states +-0.5 °C; his scale is older than the ITS-90, so +-2 °C as a rectangle is allowed.
const ROBERTS = 'Roberts 1924, Phys. Rev. 23, 386 (older scale, +-2 °C)'
const roberts = (celsius: number) =>
  ({ by: 'nothing', point: at(celsius, 1.2, ROBERTS) }) as const
const ITS90 = 'ITS-90 freezing point'
const AIR = 'oxygen eutectic, from memory; depends on how long it stood in air'

// Observation terms (standard): the carrier photographed against the sample beside it, and the
// moment of the photo. Common practice for a slowly heated, half-melted pinch on a thin carrier.
const SALT_STEPS: FixedPointStep[] = [
  'isolate mains', 'carry fumes off', 'dry salt', 'oxidised carrier', 'pinch on carrier',
  'heat slowly', 'watch first melt', 'hold half melted', 'flame off', 'photograph carrier',
]
const SODIUM: FixedPointHazard[] = [
  'salt spits', 'salt fumes', 'sodium light', 'live element', 'mixed salts melt low',
  'not on freezing', 'carrier not sample', 'salt corrodes',
]
const POTASSIUM: FixedPointHazard[] = SODIUM.filter((hazard) => hazard !== 'sodium light')
const METAL_STEPS: FixedPointStep[] = [
  'isolate mains', 'carry fumes off', 'oxidised carrier', 'snippet on carrier', 'heat slowly',
  'watch first melt', 'hold half melted', 'flame off', 'photograph carrier',
]
const COVERED_STEPS: FixedPointStep[] = METAL_STEPS.toSpliced(4, 0, 'cover with charcoal')
const METAL: FixedPointHazard[] = [
  'clean bead reads hot', 'molten metal', 'coating fumes', 'live element', 'not on freezing',
  'carrier not sample',
]

export const KNOWN_HEATS: readonly FixedPoint[] = [
  {
    id: 'sodium-chloride',
    group: 'salt',
    name: 'Table salt melts',
    points: roberts(800.4),
    observationUncertaintyK: 6,
    steps: SALT_STEPS,
    hazards: SODIUM,
  },
  {
    id: 'potassium-chloride',
    group: 'salt',
    name: 'Potassium chloride melts',
    points: roberts(770.3),
    observationUncertaintyK: 6,
    steps: SALT_STEPS,
    hazards: POTASSIUM,
  },
  {
    id: 'sodium-sulfate',
    group: 'salt',
    name: 'Sodium sulfate melts',
    points: roberts(884.7),
    observationUncertaintyK: 6,
    steps: SALT_STEPS,
    hazards: SODIUM,
  },
  {
    id: 'potassium-sulfate',
    group: 'salt',
    name: 'Potassium sulfate melts',
    points: roberts(1069.1),
    observationUncertaintyK: 6,
    steps: SALT_STEPS,
    hazards: POTASSIUM,
  },
  {
    id: 'aluminium',
    group: 'metal',
    name: 'Aluminium melts',
    points: { by: 'nothing', point: at(660.323, 2, `${ITS90}; 2 K for ordinary purity, common practice`) },
    observationUncertaintyK: 8,
    steps: METAL_STEPS,
    hazards: ['near floor', ...METAL],
  },
  {
    id: 'silver',
    group: 'metal',
    name: 'Fine silver melts',
    points: {
      by: 'atmosphere',
      points: { covered: at(961.78, 1, ITS90), 'open-air': at(951, 3, AIR) },
    },
    observationUncertaintyK: 8,
    steps: COVERED_STEPS,
    hazards: ['silver spits', 'open air lowers', ...METAL],
  },
  {
    id: 'gold',
    group: 'metal',
    name: 'Fine gold melts',
    points: { by: 'nothing', point: at(1064.18, 1, ITS90) },
    observationUncertaintyK: 8,
    steps: METAL_STEPS,
    hazards: METAL,
  },
  {
    id: 'copper',
    group: 'metal',
    name: 'Copper melts',
    points: {
      by: 'atmosphere',
      points: { covered: at(1084.62, 1, ITS90), 'open-air': at(1065, 3, AIR) },
    },
    observationUncertaintyK: 8,
    steps: COVERED_STEPS,
    hazards: ['open air lowers', ...METAL],
  },
  {
    id: 'magnet-point',
    group: 'steel',
    name: 'Steel lets go of a magnet',
    points: {
      by: 'steel class',
      points: {
        'low-carbon': at(770, 3, 'Curie point of iron, CRC Handbook'),
        'medium-carbon': at(758, 8, 'between the two, common practice'),
        'high-carbon': at(740, 6, '730 to 750 °C, common practice'),
        unknown: at(750, 12, '730 to 770 °C, class not known'),
      },
    },
    observationUncertaintyK: 14,
    steps: ['isolate mains', 'carry fumes off', 'magnet on wire', 'heat slowly',
      'watch magnet let go', 'flame off', 'photograph at let go'],
    hazards: ['magnet heating only', 'class moves point', 'live element', 'coating fumes'],
  },
  {
    id: 'decalescence',
    group: 'steel',
    name: 'Shadow in steel on heating',
    points: {
      by: 'steel class',
      points: {
        'medium-carbon': at(735, 8, 'Ac1 727 °C at slow heating (ASM Metals Handbook, from memory), forge rates higher'),
        'high-carbon': at(735, 8, 'Ac1 727 to 735 °C at slow heating (ASM Metals Handbook, from memory), forge rates higher'),
      },
    },
    observationUncertaintyK: 12,
    steps: ['isolate mains', 'carry fumes off', 'work in shade', 'heat slowly',
      'watch shadow heating', 'flame off', 'photograph at shadow'],
    hazards: ['heating rate moves point', 'shadow weak in mild steel', 'alloy steel unknown',
      'live element', 'coating fumes'],
  },
  {
    id: 'recalescence',
    group: 'steel',
    name: 'Brightening in steel on cooling',
    points: {
      by: 'steel class',
      points: {
        'medium-carbon': at(680, 8, 'Ar1 671 to 685 °C at 28 °C an hour (ASM Metals Handbook, from memory)'),
        'high-carbon': at(690, 8, 'Ar1 685 to 693 °C at 28 °C an hour (ASM Metals Handbook, from memory)'),
      },
    },
    observationUncertaintyK: 14,
    steps: ['isolate mains', 'carry fumes off', 'work in shade', 'heat slowly', 'flame off',
      'watch shadow cooling', 'photograph at shadow'],
    hazards: ['heating rate moves point', 'shadow weak in mild steel', 'alloy steel unknown',
      'live element', 'coating fumes'],
  },
  {
    id: 'thermocouple',
    group: 'stated',
    name: 'Thermocouple',
    points: { by: 'value' },
    observationUncertaintyK: 5,
    steps: ['isolate mains', 'seat thermocouple', 'wait steady', 'photograph beside junction'],
    hazards: ['thermocouple on live', 'thermocouple reads cold'],
  },
  {
    id: 'crayon',
    group: 'stated',
    name: 'Temperature-indicating crayon',
    points: { by: 'value' },
    observationUncertaintyK: 6,
    steps: ['isolate mains', 'crayon stroke', 'heat slowly', 'watch crayon melt', 'flame off',
      'photograph beside stroke'],
    hazards: ['crayon not in flame', 'live element', 'coating fumes'],
  },
]
