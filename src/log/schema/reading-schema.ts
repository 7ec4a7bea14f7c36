/**
 * The reading as it is kept, exported and imported: this schema is its only definition.
 * A reading is never overwritten. Its measured part stays as saved; an edit moves the former values
 * into `history`, a recomputation adds a result to `recomputations`.
 */
import * as v from 'valibot'
import { blob, id, instant, moment, tags, text } from './fields.ts'
import {
  colourTemperatureK,
  contributionK,
  electricalOrNone,
  intervalEndK,
  light,
  temperatureK,
  uncertaintyK,
  wholeWithin,
  within,
} from './quantities.ts'

export const READING_VERSION = 2

/** How a reading came about. The order is fixed: stored summaries count on it. Add at the end. */
export const METHODS = [
  'photo',
  'raw',
  'sweep',
  'live',
  'by eye',
  'practice',
  'by hand',
  'spectrum',
  'combined',
  'supply',
  'brightness',
  'hot work',
] as const
export const method = v.picklist(METHODS)
export type Method = v.InferOutput<typeof method>

/**
 * One term of the uncertainty budget. Terms of two readings with the same name and `sharedBy` come
 * from one cause (one camera, one reference, one surface) and err together; null is this reading's
 * own.
 * The sign says in which direction a common cause moves this reading; without one, positive.
 */
const budgetTerm = v.strictObject({
  term: text(60),
  contributionK,
  sharedBy: v.nullable(text(200)),
})
export type BudgetEntry = v.InferOutput<typeof budgetTerm>

const methodVersion = text(40)

export const result = v.variant('kind', [
  v.strictObject({
    kind: v.literal('temperature'),
    temperatureK,
    standardUncertaintyK: uncertaintyK,
    /** Half of the width of the interval, K (about k = 2). */
    expandedUncertaintyK: uncertaintyK,
    /** Contains the truth with 95 % probability; need not be symmetric. */
    interval95K: v.tuple([intervalEndK, intervalEndK]),
    /** Squares add up to the squared standard uncertainty; empty when not known. */
    budget: v.pipe(v.array(budgetTerm), v.maxLength(60)),
    methodVersion,
  }),
  v.strictObject({ kind: v.literal('upper bound'), temperatureK, methodVersion }),
  v.strictObject({ kind: v.literal('none'), reason: text(120), methodVersion }),
])
export type Result = v.InferOutput<typeof result>

/**
 * The result as first saved, without its figure: a recomputation may have superseded it, so that a
 * figure is reached only through {@link currentResult} or, for a history, {@link firstResult}.
 */
export type FirstResult = Pick<Result, 'methodVersion'>
const hiddenResult = result as unknown as v.GenericSchema<Result, FirstResult>

/** CIE 1931 x, y; 1976 u', v'; correlated colour temperature and Duv where defined. */
const chromaticity = v.strictObject({
  x: light,
  y: light,
  u: light,
  v: light,
  cctK: v.nullable(colourTemperatureK),
  duv: v.nullable(light),
})

const supply = v.strictObject({
  volts: v.nullable(electricalOrNone),
  amperes: v.nullable(electricalOrNone),
  watts: v.nullable(electricalOrNone),
})

export const PICTURE_TYPES = ['image/jpeg', 'image/png', 'image/webp'] as const

/** What the reading knows of its picture; the bytes are kept beside it. */
const pictureFacts = v.strictObject({
  type: v.picklist(PICTURE_TYPES),
  width: wholeWithin(1, 65_535),
  height: wholeWithin(1, 65_535),
  bytes: wholeWithin(1, 0xffff_ffff),
  /** CRC-32 (ISO-HDLC, as ZIP and PNG use it) of the bytes. */
  crc32: wholeWithin(0, 0xffff_ffff),
})
export type PictureFacts = v.InferOutput<typeof pictureFacts>

/** A reading that a combined one rests on, with its value at that time. */
const part = v.strictObject({
  id,
  temperatureK,
  standardUncertaintyK: uncertaintyK,
  weight: within(-1000, 1000),
})

/** What a person may change afterwards. */
const editableFields = {
  takenAt: moment,
  /** The piece that was read: a name that the person uses. */
  object: text(200),
  /** Id of material and surface; empty when not stated. */
  material: text(120),
  notes: text(20_000),
  tags,
  /** Readings taken together (every n seconds, or a test run). */
  series: v.nullable(text(120)),
  supply: v.nullable(supply),
  place: text(200),
  roomTemperatureK: v.nullable(temperatureK),
  /** What stands between glow and camera: 'none', 'glass', 'quartz', or a window's id. */
  cover: text(120),
}
const editable = v.strictObject(editableFields)
export type Editable = v.InferOutput<typeof editable>
/** What stands where a person has said nothing. */
export const UNSAID: Omit<Editable, 'takenAt'> = {
  object: '',
  material: '',
  notes: '',
  tags: [],
  series: null,
  supply: null,
  place: '',
  roomTemperatureK: null,
  cover: '',
}
export const EDITABLE_NAMES = Object.keys(editableFields) as (keyof Editable)[]

/** Changes of an edit; a reading entered by hand may also have its result corrected. */
export const changes = v.partial(v.strictObject({ ...editableFields, result }))
export type Changes = v.InferOutput<typeof changes>

/** What a reading carries to be computed again and to be explained, in the shape of its method. */
const inputs = v.nullable(blob)
const details = v.nullable(blob)

const formerValues = v.strictObject({
  /** When these values were replaced. */
  at: instant,
  values: changes,
})

const recomputation = v.strictObject({
  at: instant,
  /** Why: a newer method, a new reference. */
  reason: text(400),
  result,
  /** Null: those of the reading. */
  inputs,
  details,
})
export type Recomputation = v.InferOutput<typeof recomputation>

export const reading = v.strictObject({
  version: v.literal(READING_VERSION),
  id,
  savedAt: instant,
  method,
  /** From simulated light (practice bench, practice photo): never mixed with measured ones. */
  simulated: v.boolean(),
  /** Belongs to the made-up workshop. */
  demo: v.boolean(),
  result: hiddenResult,
  ...editableFields,
  chromaticity: v.nullable(chromaticity),
  /** The glow's colour on screen, encoded Display P3, 0..1. */
  swatch: v.nullable(v.tuple([light, light, light])),
  picture: v.nullable(pictureFacts),
  parts: v.pipe(v.array(part), v.maxLength(50)),
  inputs,
  details,
  history: v.pipe(v.array(formerValues), v.maxLength(2000)),
  recomputations: v.pipe(v.array(recomputation), v.maxLength(200)),
})
export type Reading = v.InferOutput<typeof reading>

/** Its numbers alone: ranges grow narrower from one version to the next, check sums do not notice. */
export const readingNumbers = v.object({
  result: reading.entries.result,
  supply: reading.entries.supply,
  roomTemperatureK: reading.entries.roomTemperatureK,
  chromaticity: reading.entries.chromaticity,
  swatch: reading.entries.swatch,
  parts: reading.entries.parts,
  history: v.array(v.object({ values: changes })),
  recomputations: v.array(v.object({ result })),
})

/** The result that counts: the latest recomputation's, else the first one. */
export function currentResult(of: Pick<Reading, 'result' | 'recomputations'>): Result {
  return of.recomputations.at(-1)?.result ?? firstResult(of)
}

/** What {@link currentResult} was computed from: the latest recomputation's own inputs, else the first. */
export function currentInputs(of: Pick<Reading, 'inputs' | 'recomputations'>): Reading['inputs'] {
  return of.recomputations.findLast((one) => one.inputs !== null)?.inputs ?? of.inputs
}

/** The result as first saved, for the history of a reading; it may no longer count. */
export function firstResult(of: Pick<Reading, 'result'>): Result {
  return of.result as unknown as Result
}
