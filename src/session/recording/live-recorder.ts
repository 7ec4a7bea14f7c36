import { batch, type ReadonlySignal, signal } from '@preact/signals'
import type { LiveLine } from '../../estimate/live/live-line.ts'
import { METHOD_VERSION } from '../../estimate/method-version.ts'
import { FrameBins } from '../../estimate/recording/bins.ts'
import { EstimateSampler } from '../../estimate/recording/estimate-sampler.ts'
import {
  type FollowedHeight,
  LineFollower,
  toLastHeight,
} from '../../estimate/recording/reading-by-line.ts'
import { FLAGS, type Flag } from '../../log/recordings/columns.ts'
import type { Mark, RecordingHead } from '../../log/recordings/recording-schema.ts'
import type { RecordingWriter } from '../../log/recordings/types.ts'
import { deviceZone, momentOf } from '../../log/schema/moment.ts'
import type { Json, Log } from '../../log/schema/types.ts'
import type { LiveTrouble } from '../live/live-judgement.ts'
import type { LiveFrameReading, LiveModel } from '../live/live-model-type.ts'
import { type ColumnReading, columnsOf, gapAt } from './column-writer.ts'
import { detailsOf } from './recording-details.ts'
import { settleCourse } from './settle-course.ts'

/** Readings a second: the person's choice, as far as the device follows. */
export const RATES = [1, 2, 5, 10] as const
export type Rate = (typeof RATES)[number]

/** A recording ends by itself after two hours. */
export const LONGEST_SECONDS = 2 * 3600
/** Readings wait for the disk at most so long, ms: with the writing itself less than two seconds. */
const FLUSH_MS = 1000
/** What the figures rest on goes to disk so often, ms. */
const DETAILS_MS = 10_000
/** Readings of the small curve on the screen. */
const SHOWN = 240

/** A recording under way. It outlives the camera: while there is none, there is a gap. */
export interface LiveRecorder {
  readonly id: string
  readonly seconds: ReadonlySignal<number>
  readonly count: ReadonlySignal<number>
  /** The latest readings, thinned over the whole: seconds and K, NaN in a gap. */
  readonly shown: ReadonlySignal<readonly (readonly [number, number])[]>
  readonly marks: ReadonlySignal<readonly Mark[]>
  /** What the disk refused; the recording has then ended with what was on it. */
  readonly failure: ReadonlySignal<unknown>
  /** How it has ended, and as what it stands in the log. */
  readonly ended: ReadonlySignal<RecordingHead | null>
  attach(model: LiveModel): () => void
  mark(name: string, note?: string): void
  stop(how?: 'by hand' | 'by limit'): Promise<RecordingHead | null>
}

export interface RecorderOptions {
  readonly log: Log
  readonly model: LiveModel
  readonly rate: Rate
  readonly now: () => Date
  readonly nowMs?: () => number
}

const FLAG_OF: Partial<Record<LiveTrouble, Flag>> = {
  clipped: 'clipped',
  'no glow': 'lost',
  'too small': 'lost',
  'too dark': 'below range',
  'below range': 'below range',
}

export async function startRecorder({
  log,
  model,
  rate,
  now,
  nowMs = () => performance.now(),
}: RecorderOptions): Promise<LiveRecorder> {
  const simulated = model.camera.kind === 'practice'
  const { materialId, cover } = model.desk.choices.peek()
  const writer: RecordingWriter = await log.recordings.begin({
    source: 'live',
    simulated,
    startedAt: momentOf(now(), deviceZone()),
    cameraId: model.camera.id,
    methodVersion: METHOD_VERSION,
    object: model.desk.object.peek().trim(),
    material: materialId,
    cover,
    notes: simulated ? 'Simulated: practice bench.' : '',
  })
  const began = nowMs()
  const seconds = signal(0)
  const count = signal(0)
  const shown = signal<readonly (readonly [number, number])[]>([])
  const marks = signal<readonly Mark[]>([])
  const failure = signal<unknown>(null)
  const ended = signal<RecordingHead | null>(null)
  const bins = new FrameBins()
  const samples = new EstimateSampler()
  const follower = new LineFollower()
  let line: LiveLine | null = null
  let trouble: LiveTrouble | null = null
  let drifts = false
  let flickers = false
  /** Whether the tone curve was known, and exposure locked, all the time. */
  let swept: boolean | null = null
  let exposureLocked = true
  let waiting: ColumnReading[] = []
  /** Of each reading. */
  const heights: (FollowedHeight | null)[] = []
  let thin = 1
  let lastMs = -1
  /** Writes one after another. */
  let writing: Promise<void> = Promise.resolve()
  let busy = false
  let lastFlush = began
  let lastDetails = began
  let newSamples = false
  let over = false
  let facts: Json = null

  const take = (frame: LiveFrameReading) => {
    if ('trouble' in frame) {
      trouble = frame.trouble
      bins.clear()
      return
    }
    trouble = null
    if (frame.line !== line) {
      line = frame.line
      swept = swept !== false && line.input.linearity.kind !== 'single'
      follower.follow(line, frame.anchor)
      if (samples.add((nowMs() - began) / 1000, line)) newSamples = true
    }
    bins.add(frame)
  }

  const push = (reading: ColumnReading) => {
    waiting.push(reading)
    heights.push(Number.isFinite(reading.temperatureK) ? follower.height : null)
    const n = count.peek() + 1
    batch(() => {
      count.value = n
      seconds.value = reading.ms / 1000
      if (n % thin !== 0) return
      const next = [...shown.peek(), [reading.ms / 1000, reading.temperatureK] as const]
      if (next.length > SHOWN) {
        thin *= 2
        shown.value = next.filter((_, i) => i % 2 === 0)
      } else shown.value = next
    })
  }

  const tick = () => {
    if (over) return
    const ms = Math.round(nowMs() - began)
    // Timers may come together after a pause; times in the columns rise.
    if (ms <= lastMs) return
    lastMs = ms
    const bin = bins.take()
    const by = bin && follower.read(bin.plain, bin.lnNoise)
    if (bin && by) {
      const flags = (drifts ? FLAGS['balance drifts'] : 0) + (flickers ? FLAGS.flicker : 0)
      push({ ms, ...by, lnRed: bin.lnRed, flags })
    } else if (!bin && !trouble && attached) {
      // Frames come more slowly than readings are wanted: nothing is missing.
    } else push(gapAt(ms, (trouble && FLAG_OF[trouble]) ?? (attached ? 'lost' : 'paused')))
    if (nowMs() - lastFlush >= FLUSH_MS) flush()
    if (ms / 1000 >= LONGEST_SECONDS) void stop('by limit')
  }

  /** @returns when everything so far is on disk */
  const flush = (): Promise<void> => {
    // A slow disk gets fewer and larger pieces, not a queue of them.
    if (busy) return writing
    lastFlush = nowMs()
    const readings = waiting
    waiting = []
    const details = newSamples && nowMs() - lastDetails >= DETAILS_MS
    if (readings.length === 0 && !details) return writing
    busy = true
    writing = (async () => {
      try {
        if (readings.length > 0) await writer.append(columnsOf(readings))
        if (details) {
          lastDetails = nowMs()
          newSamples = false
          await writer.keepDetails(detailsOf(samples.samples, facts))
        }
      } catch (error) {
        if (failure.peek() === null) failure.value = error
        void stop('by limit')
      } finally {
        busy = false
      }
    })()
    return writing
  }

  let attached = 0
  const attach = (to: LiveModel) => {
    attached++
    facts = { locks: to.locks.peek(), settings: to.camera.settings() } as unknown as Json
    const offs = [
      to.onReading(take),
      to.rolling.subscribe((value) => {
        flickers = value?.motion === 'flicker'
      }),
      to.locks.subscribe((locks) => {
        drifts = locks?.whiteBalance === 'drifts'
        exposureLocked &&= locks?.exposure === 'locked'
        facts = { locks, settings: to.camera.settings() } as unknown as Json
      }),
    ]
    return () => {
      attached--
      bins.clear()
      line = null
      follower.clear()
      for (const off of offs) off()
    }
  }
  const timer = setInterval(tick, 1000 / rate)

  let stopping: Promise<RecordingHead | null> | null = null
  const stop = (how: 'by hand' | 'by limit' = 'by hand'): Promise<RecordingHead | null> => {
    stopping ??= (async () => {
      over = true
      clearInterval(timer)
      await writing
      try {
        if (failure.peek() === null) {
          if (waiting.length > 0) await writer.append(columnsOf(waiting))
          await writer.keepDetails(detailsOf(samples.samples, facts))
        }
        let rateShare: number | undefined
        const head = await writer.end(how, (columns) => {
          if (columns.ms.length === heights.length) toLastHeight(columns, heights)
          rateShare = settleCourse(columns, { swept: swept === true, exposureLocked })
          return columns
        })
        await writer.keepDetails(detailsOf(samples.samples, facts, rateShare))
        ended.value = head
      } catch (error) {
        if (failure.peek() === null) failure.value = error
      }
      return ended.peek()
    })()
    return stopping
  }

  return {
    id: writer.id,
    seconds,
    count,
    shown,
    marks,
    failure,
    ended,
    attach,
    mark(name, note = '') {
      const at = Math.max(0, (nowMs() - began) / 1000)
      marks.value = [
        ...marks.peek(),
        { seconds: at, name: name.slice(0, 60), note: note.slice(0, 400) },
      ]
      const all = [...marks.peek()]
      writing = writing
        .then(() => writer.keepMarks(all))
        .catch((error: unknown) => {
          if (failure.peek() === null) failure.value = error
        })
    },
    stop,
  }
}
