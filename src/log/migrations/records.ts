/** Former records in today's shape, for the database's upgrade and for files of former versions. */
import * as v from 'valibot'
import { KIT_VERSION, type KitItem, kitItem } from '../schema/kit-schema.ts'
import {
  type PictureFacts,
  READING_VERSION,
  type Reading,
  reading,
} from '../schema/reading-schema.ts'
import { kitItem1, reading1 } from './version-1.ts'

/** The zone was not kept in version 1; the offset in the time is all that is known. */
const zoneUnknown = ''

/** Today's reading from one of version 1; undefined when it is none. Throws nothing. */
export function readingFromVersion1(
  value: unknown,
  picture: PictureFacts | null,
): Reading | undefined {
  const former = v.safeParse(reading1, value)
  if (!former.success) return undefined
  const r = former.output
  const now = v.safeParse(reading, {
    version: READING_VERSION,
    id: r.id,
    savedAt: r.takenAt,
    takenAt: { iso: r.takenAt, zone: zoneUnknown },
    method: r.method,
    simulated: r.method === 'practice',
    demo: false,
    result: resultFromVersion1(r),
    object: r.object,
    material: r.material,
    notes: r.notes,
    tags: [],
    series: null,
    supply: null,
    place: '',
    roomTemperatureK: null,
    cover: '',
    chromaticity: r.x === null || r.y === null ? null : chromaticityFrom(r.x, r.y),
    swatch: null,
    picture,
    parts: [],
    inputs: r.inputs,
    details: null,
    history: [],
    recomputations: [],
  })
  return now.success ? now.output : undefined
}

function resultFromVersion1(r: v.InferOutput<typeof reading1>): unknown {
  const { methodVersion } = r
  if (r.temperatureK !== null && r.expandedUncertaintyK !== null) {
    const half = r.expandedUncertaintyK
    return {
      kind: 'temperature',
      temperatureK: r.temperatureK,
      standardUncertaintyK: half / 2,
      expandedUncertaintyK: half,
      interval95K: [r.temperatureK - half, r.temperatureK + half],
      budget: [],
      methodVersion,
    }
  }
  if (r.upperBoundK !== null) {
    return { kind: 'upper bound', temperatureK: r.upperBoundK, methodVersion }
  }
  return { kind: 'none', reason: 'not kept', methodVersion }
}

/** CIE 1976 u', v' from x, y (CIE 15, equation 8.4); CCT and Duv were not kept. */
function chromaticityFrom(x: number, y: number): NonNullable<Reading['chromaticity']> | null {
  const d = -2 * x + 12 * y + 3
  if (!(d > 0)) return null
  return { x, y, u: (4 * x) / d, v: (9 * y) / d, cctK: null, duv: null }
}

/** Version 1 knew grey references only. */
export function kitItemFromVersion1(value: unknown): KitItem | undefined {
  const former = v.safeParse(kitItem1, value)
  if (!former.success) return undefined
  const { id, name, date, data } = former.output
  const now = v.safeParse(kitItem, {
    version: KIT_VERSION,
    id,
    kind: 'grey reference',
    addedAt: date,
    simulated: false,
    demo: false,
    name,
    date: { iso: date, zone: zoneUnknown },
    notes: '',
    cameraId: null,
    balanceState: null,
    temperatureK: null,
    standardUncertaintyK: null,
    data,
  })
  return now.success ? now.output : undefined
}
