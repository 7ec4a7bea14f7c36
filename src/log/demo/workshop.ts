/**
 * A made-up workshop: its objects, readings and notes are invented for looking around in. Powers and
 * volts go with temperatures as radiation has it (fourth root of power; colour temperature of a lamp
 * as volts to the 0.42), with a little made-up scatter.
 */
import type { Method } from '../schema/reading-schema.ts'

export interface DemoReading {
  readonly object: string
  readonly material: string
  /** Before now. */
  readonly daysAgo: number
  readonly method: Method
  /** Null for an upper bound at `boundK`. */
  readonly temperatureK: number | null
  readonly standardUncertaintyK: number
  readonly boundK?: number
  readonly notes?: string
  readonly tags?: readonly string[]
  readonly volts?: number
  readonly watts?: number
  readonly cover?: string
  readonly series?: string
}

export const DEMO_PLACE = 'Made-up workshop'

/** Scatter that looks like work and is the same every time. */
const scatter = (i: number) => [3, -5, 1, 6, -2, -4, 4, 0][i % 8]!

const coil: DemoReading[] = [1500, 1250, 1000, 750, 500].flatMap((watts, step) =>
  [0, 1].map((again) => ({
    object: 'Kiln coil, lower left',
    material: 'fecral-oxidised',
    daysAgo: 21 - step - 0.05 * again,
    method: 'sweep' as const,
    temperatureK: 1290 * (watts / 1500) ** 0.25 + scatter(2 * step + again),
    standardUncertaintyK: 9,
    watts,
    volts: Math.round(230 * Math.sqrt(watts / 1500)),
    tags: ['coil test'],
    series: 'Coil test',
    ...(step === 0 && again === 0 ? { notes: 'Door open a hand’s width, lights off.' } : {}),
  })),
)

const lamp: DemoReading[] = [230, 200, 170, 140, 110].map((volts, step) => ({
  object: 'Bench lamp',
  material: 'tungsten-bare',
  daysAgo: 12 - 0.02 * step,
  method: 'photo',
  temperatureK: 2700 * (volts / 230) ** 0.42 + 2 * scatter(step),
  standardUncertaintyK: 45,
  volts,
  watts: Math.round(60 * (volts / 230) ** 1.6),
  tags: ['dimmer'],
  cover: 'glass',
  series: 'Lamp steps',
}))

const firing: DemoReading[] = Array.from({ length: 8 }, (_, hour) => ({
  object: 'Kiln shelf, middle',
  material: 'ceramic',
  daysAgo: 6 - hour / 24,
  method: 'photo',
  temperatureK: hour === 0 ? null : 860 + 62 * hour + scatter(hour),
  boundK: 890,
  standardUncertaintyK: 62,
  tags: ['firing'],
  series: 'Test firing',
  notes:
    hour === 0
      ? 'Hardly to be seen yet; door shut again.'
      : hour === 7
        ? 'Cones bent; held for half an hour.'
        : '',
}))

const forge: DemoReading[] = [
  {
    object: 'Forge bar',
    material: 'steel-oxidised',
    daysAgo: 3,
    method: 'photo',
    temperatureK: 1183,
    standardUncertaintyK: 58,
    notes: 'Scale brushed off just before.',
    tags: ['hardening'],
  },
  {
    object: 'Forge bar',
    material: 'steel-oxidised',
    daysAgo: 2.99,
    method: 'by eye',
    temperatureK: 1150,
    standardUncertaintyK: 45,
    notes: 'Between cherry and light cherry.',
    tags: ['hardening'],
  },
  {
    object: 'Forge bar',
    material: 'steel-oxidised',
    daysAgo: 2.98,
    method: 'by hand',
    temperatureK: 1163,
    standardUncertaintyK: 4,
    notes: 'Thermocouple in the drilled hole.',
    tags: ['hardening'],
  },
  {
    object: 'Forge bar',
    material: 'steel-oxidised',
    daysAgo: 1,
    method: 'sweep',
    temperatureK: 1169,
    standardUncertaintyK: 10,
    notes: 'Same fire, salt reference from last week.',
    tags: ['hardening'],
  },
]

/** Four readings of one heater; the photo's is wrong on purpose: its tone curve was not undone. */
const heater: DemoReading[] = (
  [
    ['photo', 1420, 40, 'Ordinary photo, vivid picture style.'],
    ['supply', 1215, 28, 'Volts and amperes at the terminals, true power.'],
    ['by eye', 1190, 48, 'Between clear cherry and orange.'],
    ['spectrum', 1228, 10, 'Through the bars, 550 to 800 nm.'],
  ] as const
).map(([method, temperatureK, standardUncertaintyK, notes], i) => ({
  object: 'Radiant heater, right',
  material: 'nickel-chromium-oxidised',
  daysAgo: 2 - 0.01 * i,
  method,
  temperatureK,
  standardUncertaintyK,
  notes,
  watts: 800,
  volts: 230,
  tags: ['four ways'],
}))

export const DEMO_READINGS: readonly DemoReading[] = [
  ...coil,
  ...lamp,
  ...firing,
  ...forge,
  ...heater,
]
