import { responseFromLamp } from '../../src/estimate/spectrum/response.ts'
import { USUAL_INSTRUMENT } from '../../src/estimate/spectrum/types.ts'
import { importSpectra } from '../../src/light/spectrum-import/import-spectra.ts'
import type { Json, KitItem } from '../../src/log/schema/types.ts'
import { FIRST_FORM } from '../../src/session/kit/lamp-form.ts'
import { packedMap } from '../../src/session/log/stored-map.ts'
import { NO_FACTS } from '../../src/sources/files/photo-facts.ts'
import { PRACTICE_LAMP, practiceSpectra } from '../../src/sources/practice/practice-spectra.ts'
import { kitItem } from '../session/kit/items.ts'
import { madeMap } from '../session/map/made-map.ts'
import { MATRIX, SAMPLE_KIT, SAMPLE_READING, sampleId } from './stored-samples.ts'

/** Values that reach every number of every stored shape, variants included: one for each at least. */

/** A few samples of each spectrum do. */
const thinned = (of: object): Record<string, unknown> =>
  Object.fromEntries(
    Object.entries(of).map(([name, inner]) => [
      name,
      Array.isArray(inner) ? inner.slice(0, 40) : inner,
    ]),
  )

function sampleResponse(): Record<string, unknown> {
  const read = importSpectra(practiceSpectra().lamp.text)
  if (!read.ok) throw new Error(read.code)
  const recording = { spectrum: read.spectra[0]!, dark: read.spectra[1]! }
  const made = responseFromLamp(recording, PRACTICE_LAMP, USUAL_INSTRUMENT)
  if (!made.ok) throw new Error(made.code)
  const { range, ...response } = thinned(made.response) as { range: object }
  const excluded = [{ fromNm: 600, toNm: 610, reason: 'noise' }]
  return {
    ...response,
    range: { ...range, excluded },
    instrument: { ...USUAL_INSTRUMENT, saturationLevel: 60_000 },
    recordedAs: { heading: 'counts', largest: 60_000 },
  }
}
const response = sampleResponse()
const surface = { spectral: 'grey', lnGreenOverRed: 0, standardUncertainty: 0.02 }
const ofSurface = {
  ...response,
  lamp: { emitter: 'surface', surface, temperatureK: 1500, standardUncertaintyK: 5 },
}
const range = { fromNm: 500, toNm: 800 }

const itemOfResponse = (id: string, of: object): KitItem =>
  kitItem({ id, kind: 'response', data: { response: of, range } as unknown as Json })
/** Made from a lamp, and from a surface of known temperature. */
export const RESPONSES: readonly KitItem[] = [
  itemOfResponse(sampleId(108), response),
  itemOfResponse(sampleId(110), ofSurface),
]

const camera = SAMPLE_KIT.find(({ kind }) => kind === 'camera')!
const CURVES = SAMPLE_KIT.filter(({ kind }) => kind === 'known heat').map(
  ({ data }) => (data as unknown as { reference: { linearity: object } }).reference.linearity,
)
/** A reading's inputs with all that may be said of them, by each kind of tone curve. */
interface WholeInput {
  readonly references: readonly object[]
  readonly balance: object
  readonly balanceState: object
  readonly level: object
}
const plain = SAMPLE_READING.inputs as unknown as WholeInput
const glowInputs = CURVES.map((linearity) => {
  const { references, balance, balanceState, level } = plain
  const shared = { linearity, balance, balanceState, level }
  return {
    ...plain,
    ...shared,
    references: references.map((one) => ({ ...one, ...shared })),
    cameraToXyz: MATRIX,
    leakTests: [{ test: 'remote control', seen: true, measured: { leak: 0.01, lnSd: 0.5 } }],
  }
})

export const WHOLE_CAMERA = kitItem({
  id: sampleId(109),
  kind: 'camera',
  data: {
    ...(camera.data as object),
    flatFields: [
      {
        lens: null,
        channels: 'display-p3',
        at: '2026-03-01',
        field: { green: 0.1, blue: 0.2, uncertainty: 0.01 },
      },
    ],
    leakTests: [{ test: 'remote control', seen: true, measured: { leak: 0.01, lnSd: 0.5 } }],
  } as unknown as Json,
})

const spectrum = { name: 'bar', wavelengthNm: [500, 600, 700], signal: [1, 2, 3] }
const spectrumInput = {
  recording: { spectrum, dark: spectrum },
  response: ofSurface,
  others: [response, ofSurface],
  surface,
  window: {
    wavelengthNm: [400, 900],
    transmittance: [0.9, 0.9],
    standardUncertainty: 0.01,
    transmittanceUncertainty: 0.01,
  },
  range,
  ratioNm: [550, 650],
}

const lamps = SAMPLE_KIT.filter(({ kind }) => kind === 'lamp')
const spectrumNotes = {
  step: 'glow',
  roles: { lamp: null, lampDark: null, glow: null, glowDark: null },
  storedResponse: null,
  range,
  instrument: response.instrument,
  emitter: 'tungsten',
  black: { temperatureK: 1300, standardUncertaintyK: 2 },
  lampForm: { ...FIRST_FORM, lamp: lamps[0]!.data, roomK: 293, dimmerWatts: 40 },
  responseName: '',
  settings: '',
  materialId: '',
  cover: 'none',
  windowUncertainty: 0.01,
  ratioNm: [550, 650],
  object: '',
  remarks: '',
}

/** A map whose every part says something. */
function sampleMap() {
  const packed = packedMap(madeMap())
  const standing = { cells: [44], peak: 44, around: [45], standardUncertainty: 2, across: 4 }
  return {
    ...packed,
    blurPixels: 1,
    scale: { ...packed.scale, byLevel: packed.scale.byRatio },
    evenness: {
      ...packed.evenness,
      ends: { towards: [1, 0], differenceK: 30, standardUncertaintyK: 3 },
      spots: [{ ...standing, rise: 20 }],
      surface: [{ ...standing, rise: -0.2 }],
      leastSpot: { riseK: 3, pixels: 5, prevents: null },
    },
  }
}
export const MAP_DETAILS = {
  photo: {
    facts: { exposureSeconds: 0.01, iso: 100, fNumber: 2 },
    width: 400,
    height: 300,
  },
  map: sampleMap(),
} as unknown as Json

export const RECORDING_DETAILS = {
  looks: [{ seconds: 1, lnRatio: -2, temperatureK: 1234, input: SAMPLE_READING.inputs }],
  facts: null,
  rateShare: 0.1,
  heats: [{ seconds: 3, readK: 1200, temperatureK: 1234, standardUncertaintyK: 3, name: 'silver' }],
} as unknown as Json

export const RECORDING_HEAD = {
  version: 1,
  id: sampleId(301),
  savedAt: '2026-03-01T09:00:00.000Z',
  source: 'video',
  simulated: false,
  startedAt: { iso: '2026-03-01T10:00:00.000+01:00', zone: '' },
  durationSeconds: 60,
  readings: 600,
  lowestK: 1100,
  highestK: 1300,
  commonK: 12,
  spark: [1100, null, 1300],
  cover: 'none',
  cameraId: 'Made-up phone',
  methodVersion: '1',
  ended: 'by hand',
  object: 'bar',
  material: '',
  notes: '',
  marks: [{ seconds: 3, name: 'Power off', note: '' }],
}

const former = {
  reading: {
    id: sampleId(401),
    takenAt: '2023-03-01T09:00:00Z',
    method: 'photo',
    temperatureK: 1200,
    expandedUncertaintyK: 40,
    upperBoundK: 1200,
    object: '',
    material: '',
    notes: '',
    x: 0.6,
    y: 0.4,
    methodVersion: '1',
    inputs: null,
  },
  picture: {
    id: sampleId(401),
    type: 'image/jpeg',
    width: 2,
    height: 2,
    bytes: new ArrayBuffer(1),
  },
}

const presence = {
  readings: 3,
  at: '2026-03-01T09:00:00.000Z',
  epoch: 'a',
  turn: 4,
  missing: { readings: 2, lastSeen: '2026-03-01T09:00:00.000Z' },
  restored: { readings: 2, at: '2026-03-01T09:00:00.000Z' },
}

const below = { kind: 'upper bound', temperatureK: 900, methodVersion: '1' }

const parts = [...SAMPLE_KIT, ...RESPONSES, WHOLE_CAMERA].map(({ data }) => data)

export const ALL_SAMPLES: readonly unknown[] = [
  SAMPLE_READING,
  { ...SAMPLE_READING, result: below, recomputations: [] },
  { ...SAMPLE_READING, picture: { type: 'image/png', width: 2, height: 2, bytes: 9, crc32: 7 } },
  { roomTemperatureK: 290, supply: SAMPLE_READING.supply, result: SAMPLE_READING.result },
  { result: below },
  SAMPLE_READING.inputs,
  ...glowInputs,
  MAP_DETAILS,
  spectrumInput,
  { ...spectrumInput, response },
  RECORDING_DETAILS,
  RECORDING_HEAD,
  RECORDING_HEAD.marks[0],
  { marks: RECORDING_HEAD.marks },
  { temperatureK: 1200, standardUncertaintyK: 2 },
  ...SAMPLE_KIT,
  ...parts,
  spectrumNotes,
  ...lamps.map(({ name, data }) => ({ name, lamp: data })),
  [{ id: 'a', name: '', step: 'glow', text: '', choices: {}, simulated: { truthK: 1200 } }],
  [
    { id: 'a', response, simulated: false },
    { id: 'b', response: ofSurface, simulated: false },
  ],
  {
    subject: {
      kind: 'known heat',
      choice: { id: 'sodium-chloride', valueK: 1073, limitsOfErrorK: 6 },
    },
  },
  former.reading,
  former.picture,
  presence,
  {
    ...NO_FACTS,
    exposureSeconds: 0.01,
    iso: 100,
    fNumber: 2,
    lightSource: 1,
    exposureProgram: 1,
  },
]
