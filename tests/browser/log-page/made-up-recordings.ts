/** Recordings as a busy workshop might have, made by arithmetic: the same at every run. */
import { emptyColumns } from '../../../src/log/recordings/columns.ts'
import { recordingsZip } from '../../../src/log/recordings/recording-files.ts'
import { RECORDING_VERSION, SPARK_LENGTH } from '../../../src/log/recordings/recording-schema.ts'
import type { StoredRecording } from '../../../src/log/recordings/types.ts'

const OBJECTS = ['Kiln shelf', 'Forge bar', 'Toaster coil', 'Örtl’s ring']

/** The n-th: a bar that cools for so many seconds, ten readings a second. */
export function madeUpRecording(n: number, seconds: number): StoredRecording {
  const columns = emptyColumns(10 * seconds)
  const atK = (second: number) => 1000 + (n % 50) + 250 * Math.exp(-second / 40)
  for (let i = 0; i < columns.ms.length; i++) {
    columns.ms[i] = 100 * i
    columns.temperatureK[i] = atK(i / 10)
    columns.noiseK[i] = 1
    columns.commonK[i] = 20
    columns.lnRatio[i] = -2 - 0.001 * i
    columns.lnRed[i] = -1 - 0.002 * i
  }
  const at = new Date(Date.UTC(2023, 0, 1) + n * 3_600_000).toISOString()
  return {
    head: {
      version: RECORDING_VERSION,
      id: `${n.toString(16).padStart(8, '0')}-0000-4000-8000-000000000000`,
      savedAt: at,
      source: 'live',
      simulated: false,
      startedAt: { iso: at, zone: 'UTC' },
      durationSeconds: seconds,
      readings: columns.ms.length,
      lowestK: atK(seconds),
      highestK: atK(0),
      commonK: 20,
      spark: Array.from({ length: SPARK_LENGTH }, (_, i) => atK((seconds * i) / SPARK_LENGTH)),
      cover: 'none',
      cameraId: 'a made-up camera',
      methodVersion: '1.0',
      ended: 'by hand',
      object: `${OBJECTS[n % OBJECTS.length]} ${n % 50}`,
      material: 'oxidised steel',
      notes: '',
      marks: n % 3 === 0 ? [{ seconds: seconds / 2, name: 'Power off', note: '' }] : [],
    },
    columns,
    details: null,
  }
}

/** So many of them as a file to import. */
export function madeUpRecordings(count: number, seconds: number): AsyncGenerator<Uint8Array> {
  const all = Array.from({ length: count }, (_, n) => madeUpRecording(n, seconds))
  return recordingsZip(all, new Date(Date.UTC(2024, 0, 1)))
}
