/** A recording of heat over time as it is kept, exported and imported. */
import * as v from 'valibot'
import { id, instant, moment, text } from '../schema/fields.ts'
import { temperatureK, uncertaintyK, wholeWithin, within } from '../schema/quantities.ts'

export const RECORDING_VERSION = 1
/** Ten readings a second for two hours, and some room. */
export const MOST_READINGS = 80_000
/** Temperatures of the small curve in lists. */
export const SPARK_LENGTH = 48

/** Eleven days. */
export const LAST_SECOND = 1e6
const seconds = within(0, LAST_SECOND)

/** Something that happened, by a tap. */
export const mark = v.strictObject({ seconds, name: text(60), note: text(400) })
export type Mark = v.InferOutput<typeof mark>

const changeable = {
  object: text(200),
  material: text(120),
  notes: text(20_000),
  marks: v.pipe(v.array(mark), v.maxLength(500)),
}
export const recordingChanges = v.partial(v.strictObject(changeable))
export type RecordingChanges = v.InferOutput<typeof recordingChanges>

/** What lists show: without the readings themselves. */
export const recordingHead = v.strictObject({
  version: v.literal(RECORDING_VERSION),
  id,
  savedAt: instant,
  /** 'table': from a file of columns that this app did not measure. */
  source: v.picklist(['live', 'video', 'table']),
  simulated: v.boolean(),
  startedAt: moment,
  durationSeconds: seconds,
  readings: wholeWithin(0, MOST_READINGS),
  lowestK: v.nullable(temperatureK),
  highestK: v.nullable(temperatureK),
  /** Standard uncertainty of what shifts the whole curve, at its highest place, K. */
  commonK: v.nullable(uncertaintyK),
  /** Evenly over the time; null in a gap. */
  spark: v.pipe(v.array(v.nullable(temperatureK)), v.maxLength(SPARK_LENGTH)),
  cover: text(120),
  cameraId: text(200),
  methodVersion: text(40),
  ended: v.picklist(['by hand', 'by limit', 'cut off']),
  ...changeable,
})
export type RecordingHead = v.InferOutput<typeof recordingHead>
