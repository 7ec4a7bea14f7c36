import { batch, computed, type ReadonlySignal, signal } from '@preact/signals'
import * as v from 'valibot'
import type { Json, Log, NewReading } from '../../log/schema/types.ts'
import { type FireWatch, fireWatch, secondsLeft } from './fire-watch.ts'
import {
  type JobKind,
  newJob,
  type OpenJob,
  type OwnChecks,
  openJob,
  ownChecks,
  tick,
} from './job.ts'

/** Emergency number and the address to say into the phone, as the person typed them. */
const emergency = v.object({
  number: v.pipe(v.string(), v.maxLength(60)),
  address: v.pipe(v.string(), v.maxLength(400)),
})
export type Emergency = v.InferOutput<typeof emergency>
const NO_EMERGENCY: Emergency = { number: '', address: '' }

const SHAPES = {
  job: v.nullable(openJob),
  watch: v.nullable(fireWatch),
  ownChecks,
  emergency,
} as const
type Name = keyof typeof SHAPES
const settingName = (name: Name) => `safety.${name}`

export interface SafetyModel {
  readonly job: ReadonlySignal<OpenJob | null>
  readonly watch: ReadonlySignal<FireWatch | null>
  readonly ownChecks: ReadonlySignal<OwnChecks>
  readonly emergency: ReadonlySignal<Emergency>
  /** Moves on once a second while a fire watch or a job is open. */
  readonly now: ReadonlySignal<Date>
  readonly secondsLeft: ReadonlySignal<number>
  /** What could not be stored; null while all is well. The work goes on in memory. */
  readonly failure: ReadonlySignal<unknown>
  /** Resolves when what was stored has been read. */
  readonly ready: Promise<void>
  startJob(kind: JobKind): void
  tick(list: 'ticked' | 'closed', id: string): void
  linkReadings(on: boolean): void
  addCheck(kind: JobKind, text: string, id: string): void
  removeCheck(id: string): void
  setWatch(watch: FireWatch | null): void
  setEmergency(emergency: Emergency): void
  /** Readings taken since then, by id, newest first. */
  readingsSince(at: string): Promise<readonly string[]>
  /** Writes the job or the watch into the log, then lays it aside; rejects where nothing was written. */
  finish(record: NewReading, what: 'job' | 'watch'): Promise<void>
  dispose(): void
}

/**
 * Jobs, fire watch and emergency address of this device. They are stored in the log's database, so
 * that a deadline survives a killed browser, and other tabs follow.
 */
export function createSafetyModel(log: Promise<Log>, clock: () => Date): SafetyModel {
  const job = signal<OpenJob | null>(null)
  const watch = signal<FireWatch | null>(null)
  const own = signal<OwnChecks>([])
  const address = signal<Emergency>(NO_EMERGENCY)
  const now = signal(clock())
  const failure = signal<unknown>(null)
  let stop: (() => void) | undefined
  let disposed = false

  /** How often something was set here, and the writing of it, one after the other. */
  let changes = 0
  let writes: Promise<unknown> = Promise.resolve()

  const found = async <N extends Name>(opened: Log, name: N) => {
    const parsed = v.safeParse(SHAPES[name], (await opened.settings.get(settingName(name))) ?? null)
    return parsed.success ? (parsed.output as v.InferOutput<(typeof SHAPES)[N]>) : null
  }
  const read = async (opened: Log): Promise<void> => {
    const before = changes
    await writes
    const [foundJob, foundWatch, foundOwn, foundAddress] = await Promise.all([
      found(opened, 'job'),
      found(opened, 'watch'),
      found(opened, 'ownChecks'),
      found(opened, 'emergency'),
    ])
    if (disposed) return
    // What was set meanwhile is newer than what was read.
    if (changes !== before) return read(opened)
    batch(() => {
      job.value = foundJob
      watch.value = foundWatch
      own.value = foundOwn ?? []
      address.value = foundAddress ?? NO_EMERGENCY
      now.value = clock()
    })
  }
  const fail = (error: unknown) => {
    if (!disposed) failure.value = error
  }
  let isReady = false
  const ready = log
    .then((opened) => {
      if (disposed) return
      stop = opened.subscribe(({ kind }) => {
        if (kind === 'settings' || kind === 'everything') read(opened).catch(fail)
      })
      return read(opened)
    })
    .catch(fail)
    .then(() => {
      isReady = true
    })
  /** A tap that comes before what was stored has been read changes that, and does not replace it. */
  const whenReady = (change: () => void) => {
    if (isReady) change()
    else void ready.then(change)
  }
  const store = (name: Name, value: unknown) => {
    changes++
    writes = writes
      .then(() => log)
      .then((opened) => opened.settings.set(settingName(name), value as Json))
      .catch(fail)
  }
  const setJob = (next: OpenJob | null) => {
    job.value = next
    store('job', next)
  }
  const setWatch = (next: FireWatch | null) => {
    batch(() => {
      watch.value = next
      now.value = clock()
    })
    store('watch', next)
  }
  const timer = setInterval(() => {
    if (watch.peek() || job.peek()) now.value = clock()
  }, 1000)

  return {
    job,
    watch,
    ownChecks: own,
    emergency: address,
    now,
    secondsLeft: computed(() => (watch.value ? secondsLeft(watch.value, now.value) : 0)),
    failure,
    ready,
    startJob: (kind) =>
      whenReady(() => {
        if (!job.peek()) setJob(newJob(kind, clock()))
      }),
    tick(list, id) {
      const current = job.peek()
      if (current) setJob(tick(current, list, id, clock()))
    },
    linkReadings(on) {
      const current = job.peek()
      if (current) setJob({ ...current, withReadings: on })
    },
    addCheck: (kind, text, id) =>
      whenReady(() => {
        own.value = [...own.peek(), { kind, id, text }]
        store('ownChecks', own.peek())
      }),
    removeCheck(id) {
      own.value = own.peek().filter((one) => one.id !== id)
      store('ownChecks', own.peek())
    },
    setWatch: (next) => whenReady(() => setWatch(next)),
    setEmergency: (next) =>
      whenReady(() => {
        address.value = next
        store('emergency', next)
      }),
    async readingsSince(at) {
      const view = await (await log).find({ fromMs: Date.parse(at) })
      return view.summaries().flatMap(({ id, method }) => (method === 'hot work' ? [] : [id]))
    },
    async finish(record, what) {
      await (await log).add(record)
      if (what === 'job') setJob(null)
      else setWatch(null)
    },
    dispose() {
      disposed = true
      clearInterval(timer)
      stop?.()
    },
  }
}
