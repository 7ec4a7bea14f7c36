import { signal } from '@preact/signals'
import { vi } from 'vitest'
import type { LiveLine } from '../../../src/estimate/live/live-line.ts'
import type { RecordingColumns } from '../../../src/log/recordings/columns.ts'
import type { Log } from '../../../src/log/schema/types.ts'
import type { LiveFrameReading, LiveModel } from '../../../src/session/live/live-model-type.ts'
import { startRecorder } from '../../../src/session/recording/live-recorder.ts'
import { input } from '../../estimate/live/live-glow.ts'

/** A whole estimate at 1200 K, and what another plain ln(G/R) is by it. */
const LINE = {
  estimate: {
    kind: 'temperature',
    temperatureK: 1200,
    standardUncertaintyK: 20,
    budget: [{ term: 'pixel noise', standardUncertaintyK: 5 }],
  },
  lnRatio: -2.2,
  slopeK: 350,
  input,
} as unknown as LiveLine

/** A recorder of a made-up live glow, its clock and its disk in the test's hands. */
export async function recorder({ kind = 'camera', rate = 10 as const, refuse = '' } = {}) {
  const written: RecordingColumns[] = []
  const calls: string[] = []
  const marks: unknown[] = []
  let details = 0
  let begun: Record<string, unknown> = {}
  const refusing = (what: string) => {
    calls.push(what)
    if (what === refuse) throw new Error(`no ${what}`)
  }
  const log = {
    recordings: {
      async begin(facts: Record<string, unknown>) {
        begun = facts
        return {
          id: 'made-up recording',
          async append(columns: RecordingColumns) {
            refusing('append')
            written.push(columns)
          },
          async keepDetails() {
            refusing('keepDetails')
            details++
          },
          async keepMarks(all: unknown) {
            refusing('keepMarks')
            marks.push(all)
          },
          async end(how: string) {
            refusing('end')
            return { how }
          },
        }
      },
    },
  } as unknown as Log
  let ms = 0
  let told: ((frame: LiveFrameReading) => void) | null = null
  const locks = signal<unknown>({ exposure: 'locked', whiteBalance: 'locked' })
  const rolling = signal<unknown>(null)
  const model = {
    camera: { kind, id: 'made-up stream', settings: () => ({}) },
    desk: {
      choices: signal({ materialId: 'steel-oxidised', cover: 'none' }),
      object: signal('  bar  '),
    },
    locks,
    rolling,
    onReading(listener: (frame: LiveFrameReading) => void) {
      told = listener
      return () => {
        told = null
      }
    },
  } as unknown as LiveModel
  const made = await startRecorder({
    log,
    model,
    rate,
    now: () => new Date('2026-05-04T10:00:00Z'),
    nowMs: () => ms,
  })
  const settled = () => new Promise((resolve) => setImmediate(resolve))
  return {
    made,
    model,
    locks,
    rolling,
    written,
    calls,
    marks,
    begun: () => begun,
    details: () => details,
    see: (frame: Partial<LiveFrameReading> = {}) =>
      told?.({ plain: -2.5, lnRed: -1, line: LINE, anchor: -2.5, ...frame } as LiveFrameReading),
    /** The next readings, each with time for the disk. */
    async pass(readings: number, each: () => void = () => undefined) {
      for (let i = 0; i < readings; i++) {
        each()
        ms += 1000 / rate
        vi.advanceTimersByTime(1000 / rate)
        await settled()
      }
    },
    later(addedMs: number) {
      ms += addedMs
    },
    all: (column: 'temperatureK' | 'flags' | 'ms') =>
      written.flatMap((columns) => [...columns[column]]),
  }
}
