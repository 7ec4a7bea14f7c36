import type { Json, KitItem, Reading } from '../../src/log/schema/types.ts'
import { FIRST_FORM } from '../../src/session/kit/lamp-form.ts'
import {
  BALANCE,
  curveItem,
  heatItem,
  kitItem,
  REFERENCE,
  toneCurve,
} from '../session/kit/items.ts'

/** One of every stored shape with every number filled in: what its numbers can do is walked through. */

export const sampleId = (n: number) => `00000000-0000-4000-8000-${String(n).padStart(12, '0')}`

const result = {
  kind: 'temperature' as const,
  temperatureK: 1173,
  standardUncertaintyK: 20,
  expandedUncertaintyK: 40,
  interval95K: [1130, 1215] as [number, number],
  budget: [
    { term: 'camera', contributionK: 16, sharedBy: 'Made-up phone' },
    { term: 'noise', contributionK: 12, sharedBy: null },
  ],
  methodVersion: '1',
}

const SUPPLY = { volts: 12, amperes: 3, watts: 36 }

const glowInput = {
  glow: REFERENCE.glow,
  channels: 'display-p3',
  cameraToXyz: null,
  balance: BALANCE,
  balanceState: { kind: 'daylight', colourTemperatureK: 5200 },
  linearity: { kind: 'linear' },
  quality: {
    clippedShare: 0,
    floorShare: [0, 0, 0],
    backgroundShare: 0.01,
    glowWidthPixels: 40,
    chromaSubsampled: true,
    haloLnRatio: 0.01,
  },
  surface: REFERENCE.surface,
  window: { id: 'glass', lnGreenOverRed: 0, standardUncertainty: 0.01, infrared: 0.5 },
  cameraId: 'Made-up phone',
  takenAt: '2026-03-01T10:00:00.000+01:00',
  references: [{ ...REFERENCE, id: sampleId(900), name: 'Salt' }],
  level: {
    exposureSeconds: 0.01,
    iso: 100,
    fNumber: 2,
    fieldRadius: 0.1,
    measured: { lnOff: 0.02, standardUncertainty: 0.01 },
  },
}

export const SAMPLE_READING: Reading = {
  version: 2,
  id: sampleId(1),
  savedAt: '2026-03-01T09:00:00.000Z',
  method: 'photo',
  simulated: false,
  demo: false,
  result,
  takenAt: { iso: '2026-03-01T10:00:00.000+01:00', zone: 'Europe/Vienna' },
  object: 'forge bar',
  material: 'steel-oxidised',
  notes: 'second heat',
  tags: ['hardening'],
  series: 'morning',
  supply: SUPPLY,
  place: 'shop',
  roomTemperatureK: 293,
  cover: 'glass',
  chromaticity: { x: 0.6, y: 0.36, u: 0.4, v: 0.53, cctK: 1300, duv: 0.001 },
  swatch: [1, 0.4, 0.1],
  picture: null,
  parts: [{ id: sampleId(2), temperatureK: 1170, standardUncertaintyK: 30, weight: 0.4 }],
  inputs: glowInput as unknown as Json,
  details: {
    photo: { facts: { exposureSeconds: 0.01, iso: 100, fNumber: 2 } },
  },
  history: [
    {
      at: '2026-03-02T09:00:00.000Z',
      values: { roomTemperatureK: 290, object: 'bar', supply: SUPPLY, result },
    },
  ],
  recomputations: [
    { at: '2026-03-03T09:00:00.000Z', reason: 'newer method', result, inputs: null, details: null },
  ],
}

export const MATRIX = [
  [0.6, 0.2, 0.1],
  [0.3, 0.6, 0.1],
  [0, 0.1, 0.8],
]
const read = (value: number) => ({ value, percentOfReading: 1, digits: 2, resolution: 0.1 })
const lamp = {
  ...FIRST_FORM.lamp,
  ratedVolts: 230,
  ratedWatts: 60,
  cold: { ohms: read(60), temperatureK: 295 },
  supply: { kind: 'cut', meter: 'true-rms', supplyVolts: 230 },
}
const lock = {
  kind: 'locked',
  state: { kind: 'lamp', colourTemperatureK: 3200, lock: 'verified' },
  since: '2026-03-01T10:00:00.000+01:00',
  facts: { exposureProgram: 2, software: null, lens: null },
}
const lampOrigin = {
  kind: 'lamp',
  lampName: 'Bench lamp',
  target: 'filament',
  method: 'volts',
  lamp,
  readings: { volts: read(230), amperes: read(0.3), watts: read(60) },
  trueTemperatureK: 2600,
}
const meltOrigin = {
  kind: 'known heat',
  id: 'sodium-chloride',
  atmosphere: null,
  steelClass: null,
  valueK: 1073,
  limitsOfErrorK: 6,
}

/** Without a spectrometer's response: that is made from a lamp. */
export const SAMPLE_KIT: readonly KitItem[] = [
  kitItem({
    id: sampleId(101),
    kind: 'camera',
    name: 'Made-up phone',
    temperatureK: 300,
    standardUncertaintyK: 1,
    data: {
      device: 'Made-up phone',
      lock,
      usual: { object: 'bar', materialId: 'steel-oxidised', cover: 'none' },
      cardPlace: { x: 0.1, y: 0.1, width: 0.2, height: 0.2 },
      exposures: [
        { exposureSeconds: 0.01, iso: 100, fNumber: 2, lnOff: 0.02, standardUncertainty: 0.01 },
      ],
    } as unknown as Json,
  }),
  kitItem({
    id: sampleId(102),
    kind: 'grey reference',
    cameraId: 'Made-up phone',
    data: { balance: BALANCE, channels: 'display-p3' } as unknown as Json,
  }),
  {
    ...heatItem(sampleId(103), { balance: BALANCE, level: glowInput.level } as never, {
      origin: meltOrigin,
      cameraToXyz: MATRIX,
    }),
  },
  heatItem(
    sampleId(104),
    {
      linearity: {
        kind: 'sweep',
        curveId: 'c',
        standardUncertaintyGreen: 0.01,
        standardUncertaintyBlue: 0.02,
        greenErrors: [0.01, 0.02],
        ownUncertainty: 0.01,
        photos: 4,
      },
      balanceState: { kind: 'lamp', colourTemperatureK: 3200 },
    },
    { origin: lampOrigin },
  ),
  heatItem(sampleId(105), {
    linearity: { kind: 'single', curveId: 'c', storedLevels: [0.5, 0.2, 0.1], space: 'srgb' },
    channels: 'display-p3',
  }),
  kitItem({ id: sampleId(106), kind: 'lamp', data: lamp as unknown as Json }),
  curveItem(sampleId(107), toneCurve('srgb'), {
    channelOdds: 1.5,
    check: { at: '2026-03-01T10:00:00.000+01:00', residual: 0.01, agrees: true },
  }),
]

export type Path = readonly (string | number)[]

/** Paths of all numbers or texts of a value; of a long list its first and last. */
export function leavesOf(value: unknown, type: 'number' | 'string', path: Path = []): Path[] {
  if (typeof value === type) return [path]
  if (typeof value !== 'object' || value === null) return []
  const entries = Array.isArray(value)
    ? [...value.entries()].filter(([i]) => i === 0 || i === value.length - 1 || value.length <= 3)
    : Object.entries(value)
  return entries.flatMap(([name, inner]) => leavesOf(inner, type, [...path, name]))
}

export const numbersOf = (value: unknown) => leavesOf(value, 'number')

/** The same with another number or text in one place. */
export function withLeaf<T>(value: T, [name, ...rest]: Path, leaf: unknown): T {
  if (name === undefined) return leaf as T
  const copy = (Array.isArray(value) ? [...value] : { ...value }) as Record<
    string | number,
    unknown
  >
  copy[name] = withLeaf(copy[name], rest, leaf)
  return copy as T
}
