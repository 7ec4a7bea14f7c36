import { SPARK_LENGTH } from './recording-schema.ts'

/**
 * The readings of a recording, column by column, all of one length. A temperature of NaN is a gap;
 * the flags say why.
 */
export interface RecordingColumns {
  /** Since the beginning, ms; rising. */
  readonly ms: Uint32Array
  readonly temperatureK: Float32Array
  /** Standard uncertainty by the reading's own noise, K. */
  readonly noiseK: Float32Array
  /** Standard uncertainty of what shifts the whole curve, K. */
  readonly commonK: Float32Array
  /** ln(G/R) of the glow, linear Display P3, as the estimate takes it; NaN where not measured. */
  readonly lnRatio: Float32Array
  /** ln of its linear red level. */
  readonly lnRed: Float32Array
  /** Sum of {@link FLAGS}. */
  readonly flags: Uint8Array
}

export const FLAGS = {
  clipped: 1,
  lost: 2,
  'below range': 4,
  'exposure changed': 8,
  'balance drifts': 16,
  /** No pictures, or another reason without a figure. */
  paused: 32,
  flicker: 64,
} as const
export type Flag = keyof typeof FLAGS

const LAYOUT = [
  ['ms', Uint32Array],
  ['temperatureK', Float32Array],
  ['noiseK', Float32Array],
  ['commonK', Float32Array],
  ['lnRatio', Float32Array],
  ['lnRed', Float32Array],
  ['flags', Uint8Array],
] as const

export const COLUMN_NAMES = LAYOUT.map(([name]) => name)
const HEAD_BYTES = 8
const VERSION = 1
/** Five columns of four bytes more than the first, and the flags. */
const READING_BYTES = LAYOUT.reduce((sum, [, type]) => sum + type.BYTES_PER_ELEMENT, 0)

/** Empty columns of a length. */
export function emptyColumns(count: number): RecordingColumns {
  return Object.fromEntries(
    LAYOUT.map(([name, type]) => [name, new type(count)]),
  ) as unknown as RecordingColumns
}

/** Version and count (32-bit words), then the columns one after the other, little-endian. */
export function bytesOfColumns(columns: RecordingColumns): Uint8Array<ArrayBuffer> {
  const count = columns.ms.length
  const bytes = new Uint8Array(HEAD_BYTES + count * READING_BYTES)
  const view = new DataView(bytes.buffer)
  view.setUint32(0, VERSION, true)
  view.setUint32(4, count, true)
  let at = HEAD_BYTES
  for (const [name] of LAYOUT) {
    const { buffer, byteOffset, byteLength } = columns[name]
    // All machines with a browser are little-endian.
    bytes.set(new Uint8Array(buffer, byteOffset, byteLength), at)
    at += byteLength
  }
  return bytes
}

/** The inverse of {@link bytesOfColumns}; undefined for bytes that are none. */
export function columnsOfBytes(bytes: Uint8Array): RecordingColumns | undefined {
  if (bytes.length < HEAD_BYTES) return undefined
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength)
  const count = view.getUint32(4, true)
  if (view.getUint32(0, true) !== VERSION) return undefined
  if (bytes.length !== HEAD_BYTES + count * READING_BYTES) return undefined
  const columns = emptyColumns(count)
  let at = HEAD_BYTES
  for (const [name] of LAYOUT) {
    const { buffer, byteOffset, byteLength } = columns[name]
    new Uint8Array(buffer, byteOffset, byteLength).set(bytes.subarray(at, at + byteLength))
    at += byteLength
  }
  return columns
}

/** One after the other. */
export function joinedColumns(parts: readonly RecordingColumns[]): RecordingColumns {
  const all = emptyColumns(parts.reduce((sum, { ms }) => sum + ms.length, 0))
  let at = 0
  for (const part of parts) {
    for (const [name] of LAYOUT) all[name].set(part[name] as never, at)
    at += part.ms.length
  }
  return all
}

/** What lists show of the readings. */
export interface ColumnFacts {
  readonly readings: number
  readonly durationSeconds: number
  readonly lowestK: number | null
  readonly highestK: number | null
  readonly commonK: number | null
  readonly spark: (number | null)[]
}

export function factsOfColumns(columns: RecordingColumns): ColumnFacts {
  const { ms, temperatureK, commonK } = columns
  let [lowest, highest, common] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY, Number.NaN]
  temperatureK.forEach((value, i) => {
    if (value < lowest) lowest = value
    if (value > highest) {
      highest = value
      common = commonK[i]!
    }
  })
  const orNull = (value: number) => (Number.isFinite(value) ? value : null)
  return {
    readings: ms.length,
    durationSeconds: (ms.at(-1) ?? 0) / 1000,
    lowestK: orNull(lowest),
    highestK: orNull(highest),
    commonK: orNull(common),
    spark: sparkOf(columns),
  }
}

function sparkOf({ ms, temperatureK }: RecordingColumns): (number | null)[] {
  const tenth = (value: number) => (Number.isFinite(value) ? Math.round(10 * value) / 10 : null)
  // Fewer readings than places would leave holes that are none.
  if (ms.length < SPARK_LENGTH) return Array.from(temperatureK, tenth)
  const sums = new Float64Array(SPARK_LENGTH)
  const counts = new Uint32Array(SPARK_LENGTH)
  const last = ms.at(-1)!
  temperatureK.forEach((value, i) => {
    if (!Number.isFinite(value)) return
    const place = Math.min(SPARK_LENGTH - 1, Math.floor((SPARK_LENGTH * ms[i]!) / last))
    sums[place]! += value
    counts[place]!++
  })
  // 0/0 where there is none: a gap.
  return Array.from(sums, (sum, i) => tenth(sum / counts[i]!))
}
