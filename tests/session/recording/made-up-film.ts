import { signal } from '@preact/signals'
import type { Log } from '../../../src/log/schema/types.ts'
import { createVideoModel } from '../../../src/session/recording/video-model.ts'
import type { VideoBench } from '../../../src/sources/video/video-client.ts'
import type {
  VideoCurve,
  VideoFacts,
  VideoReading,
} from '../../../src/sources/video/video-operations.ts'

export const FACTS = {
  codec: 'avc',
  width: 64,
  height: 36,
  rotation: 0,
  durationSeconds: 32,
  frameRate: 30,
  decodable: false,
  colour: { matrix: null, fullRange: null, primaries: null, transfer: null },
} as VideoFacts
export const FILM = new File([], 'melt.mp4')

const COUNT = 100
/** One for each reading of a made-up film. */
export const ofReadings = <T>(value: (i: number) => T) =>
  Array.from({ length: COUNT }, (_, i) => value(i))
/** A piece that cools by 100 K in 9.9 s. */
export const filmCurve = (change: Partial<VideoCurve> = {}): VideoCurve => ({
  ms: ofReadings((i) => 100 * i),
  temperatureK: ofReadings((i) => 1300 - i),
  noiseK: ofReadings(() => 2),
  commonK: ofReadings(() => 40),
  lnRatio: ofReadings((i) => -2 - 0.003 * i),
  lnRed: ofReadings((i) => -1 - 0.013 * i),
  gap: ofReadings(() => null),
  flickers: ofReadings(() => false),
  driftsFrom: -1,
  looks: [],
  ...change,
})

/**
 * A model over a bench that knows one film, and what each bench was opened with and asked to read. Reading
 * stops at once where nothing else is said.
 */
export function madeFilm(
  bench: Partial<VideoBench> = {},
  { log = new Promise<Log>(() => undefined), kit = {} } = {},
) {
  const opened: (VideoFacts | null)[] = []
  const readings: VideoReading[] = []
  let closed = 0
  const whole = {
    facts: async () => FACTS,
    preview: async () => null,
    still: async () => null,
    read: async () => {
      throw new DOMException('stopped here', 'AbortError')
    },
    close: () => closed++,
    ...bench,
  } as VideoBench
  const empty = { references: signal([]), curves: signal([]), cameras: signal([]) }
  const model = createVideoModel(log, { ...empty, ...kit }, (known) => {
    opened.push(known)
    return {
      ...whole,
      read: (reading, progress) => {
        readings.push(reading)
        return whole.read(reading, progress)
      },
    }
  })
  return { model, opened, readings, closed: () => closed }
}
