/** Recordings made up for the tests of them. */
import { emptyColumns, type RecordingColumns } from '../../../src/log/recordings/columns.ts'
import type { NewRecording } from '../../../src/log/recordings/types.ts'

export const RECORDING: NewRecording = {
  source: 'video',
  simulated: false,
  startedAt: { iso: '2025-03-01T11:00:00.000+01:00', zone: 'Europe/Vienna' },
  cameraId: 'a camera',
  methodVersion: '1',
}

/** Readings at even steps; every column differs from the others. */
export function course(temperatures: readonly number[], stepMs = 100): RecordingColumns {
  const made = emptyColumns(temperatures.length)
  temperatures.forEach((temperatureK, i) => {
    made.ms[i] = stepMs * i
    made.temperatureK[i] = temperatureK
    made.noiseK[i] = 0.25 + i
    made.commonK[i] = 8 + i
    made.lnRatio[i] = -2 - i
    made.lnRed[i] = -1 - i / 4
    made.flags[i] = i % 64
  })
  return made
}
