import {
  emptyColumns,
  FLAGS,
  type Flag,
  type RecordingColumns,
} from '../../log/recordings/columns.ts'

export interface ColumnReading {
  readonly ms: number
  readonly temperatureK: number
  readonly noiseK: number
  readonly commonK: number
  readonly lnRatio: number
  readonly lnRed: number
  readonly flags: number
}

/** A gap: no number, and why. */
export const gapAt = (ms: number, why: Flag): ColumnReading => ({
  ms,
  temperatureK: Number.NaN,
  noiseK: Number.NaN,
  commonK: Number.NaN,
  lnRatio: Number.NaN,
  lnRed: Number.NaN,
  flags: FLAGS[why],
})

/** Readings one by one into columns. */
export function columnsOf(readings: readonly ColumnReading[]): RecordingColumns {
  const columns = emptyColumns(readings.length)
  readings.forEach((reading, i) => {
    columns.ms[i] = reading.ms
    columns.temperatureK[i] = reading.temperatureK
    columns.noiseK[i] = reading.noiseK
    columns.commonK[i] = reading.commonK
    columns.lnRatio[i] = reading.lnRatio
    columns.lnRed[i] = reading.lnRed
    columns.flags[i] = reading.flags
  })
  return columns
}
