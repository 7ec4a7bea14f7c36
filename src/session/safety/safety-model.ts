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

/** What is stored, by name: its shape, and what it is where nothing is stored. */
export const SAFETY_SHAPES = {
  job: v.nullable(openJob),
  watch: v.nullable(fireWatch),
  ownChecks,
  emergency,
}
type Name = keyof typeof SAFETY_SHAPES
type State = { readonly [N in Name]: v.InferOutput<(typeof SAFETY_SHAPES)[N]> }
const NOTHING: State = {
  job: null,
  watch: null,
  ownChecks: [],
  emergency: { number: '', address: '' },
}
const NAMES = Object.keys(SAFETY_SHAPES) as Name[]
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
  const state = signal(NOTHING)
  const part = <N extends Name>(name: N) => computed(() => state.value[name])
  const watch = part('watch')
  const now = signal(clock())
  const failure = signal<unknown>(null)
  let stop: (() => void) | undefined
  let disposed = false
  /** How often something was set here, and the writing of it, one after the other. */
  let changes = 0
  let writes: Promise<unknown> = Promise.resolve()

  const read = async (opened: Log): Promise<void> => {
    const before = changes
    await writes
    const stored = await Promise.all(NAMES.map((name) => opened.settings.get(settingName(name))))
    if (disposed) return
    // What was set meanwhile is newer than what was read.
    if (changes !== before) return read(opened)
    const found = NAMES.map((name, i) => {
      const { success, output } = v.safeParse(SAFETY_SHAPES[name], stored[i])
      return [name, success ? output : NOTHING[name]]
    })
    batch(() => {
      state.value = Object.fromEntries(found) as unknown as State
      now.value = clock()
      if (isRead) return
      isRead = true
      failure.value = null
      for (const changeAgain of unread.splice(0)) changeAgain()
    })
  }
  const fail = (error: unknown) => {
    if (!disposed) failure.value = error
  }
  let isReady = false
  /** What is stored is known: only then may it be written over. */
  let isRead = false
  /** What was set before that, to be set again in what is read. */
  const unread: (() => void)[] = []
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
  const change = <N extends Name>(name: N, next: (now: State[N]) => State[N]) => {
    if (!isReady) return void ready.then(() => change(name, next))
    const value = next(state.peek()[name])
    changes++
    batch(() => {
      state.value = { ...state.peek(), [name]: value }
      now.value = clock()
    })
    if (!isRead) {
      unread.push(() => change(name, next))
      return
    }
    writes = writes
      .then(() => log)
      .then((opened) => opened.settings.set(settingName(name), value as unknown as Json))
      .catch(fail)
  }
  const timer = setInterval(() => {
    if (state.peek().watch || state.peek().job) now.value = clock()
  }, 1000)

  return {
    job: part('job'),
    watch,
    ownChecks: part('ownChecks'),
    emergency: part('emergency'),
    now,
    secondsLeft: computed(() => (watch.value ? secondsLeft(watch.value, now.value) : 0)),
    failure,
    // A job that is open already goes on.
    startJob: (kind) => change('job', (open) => open ?? newJob(kind, clock())),
    tick: (list, id) => change('job', (open) => open && tick(open, list, id, clock())),
    linkReadings: (on) => change('job', (open) => open && { ...open, withReadings: on }),
    addCheck: (kind, text, id) => change('ownChecks', (all) => [...all, { kind, id, text }]),
    removeCheck: (id) => change('ownChecks', (all) => all.filter((one) => one.id !== id)),
    setWatch: (next) => change('watch', () => next),
    setEmergency: (next) => change('emergency', () => next),
    async readingsSince(at) {
      const view = await (await log).find({ fromMs: Date.parse(at) })
      return view.summaries().flatMap(({ id, method }) => (method === 'hot work' ? [] : [id]))
    },
    async finish(record, what) {
      await (await log).add(record)
      change(what, () => null)
    },
    dispose() {
      disposed = true
      clearInterval(timer)
      stop?.()
    },
  }
}
