/** Making a camera ready: which camera, what it has, what each step brings. */
import { computed, effect, type ReadonlySignal, type Signal, signal } from '@preact/signals'
import type { BalanceState } from '../../estimate/types.ts'
import type { Log } from '../../log/schema/types.ts'
import type { PhotoFacts } from '../../sources/files/photo-facts.ts'
import { deviceIdOf } from '../reading/photo-meaning.ts'
import type { CameraLock, StepId } from './camera-data.ts'
import type { CameraPrediction } from './camera-prediction.ts'
import { type CameraProfile, devicesOf, type Piece, piecesOf, profileOf } from './camera-profile.ts'
import { changeCamera, rememberLock } from './camera-store.ts'
import type { KitModel } from './kit-model.ts'
import { type ReadyWay, wayOf } from './ready-way.ts'
import { forgetStatedLock, statedLock, storeStatedLock } from './stated-lock.ts'
import { predictionOf } from './stored-prediction.ts'

export interface ReadyJob {
  /** Empty while no photo has said which camera it is. */
  readonly device: Signal<string>
  readonly profile: ReadonlySignal<CameraProfile>
  readonly pieces: ReadonlySignal<Partial<Record<StepId, Piece>>>
  /** Null while it is worked out. */
  readonly prediction: ReadonlySignal<CameraPrediction | null>
  /** A lock that was stated before any photo named the camera. */
  readonly pendingLock: ReadonlySignal<BalanceState | null>
  /** What is said of the lock leads to other steps. */
  readonly way: ReadonlySignal<ReadyWay>
  /** How the camera is locked, as far as it is known. */
  lock(): CameraLock | null
  stateLock(log: Log, state: BalanceState): Promise<void>
  /** Two photos of the card agree. */
  lockHeld(log: Log): Promise<void>
  cannotLock(log: Log, way: 'raw' | 'card in picture'): Promise<void>
  skip(log: Log, step: StepId): Promise<void>
  /** A photo of the camera was opened: it names it, and what was stated before is stored for it. */
  seen(log: Log, facts: PhotoFacts): Promise<void>
  dispose(): void
}

const NO_FACTS_YET = { exposureProgram: null, software: null, lens: null }

export function createReadyJob(kit: KitModel, now: () => Date): ReadyJob {
  const device = signal('')
  const pendingLock = signal<BalanceState | null>(null)
  const profile = signal<CameraProfile>(profileOf('', kit))
  const pieces = signal<Partial<Record<StepId, Piece>>>({})
  const prediction = signal<CameraPrediction | null>(null)
  const pendingWay = signal<'raw' | 'card in picture' | null>(null)
  const way = computed<ReadyWay>(() => {
    const stored = profile.value.stored?.data.lock
    if (stored) return wayOf(stored)
    return pendingLock.value ? 'locked' : (pendingWay.value ?? 'locked')
  })
  let work = new AbortController()

  void statedLock().then((found) => {
    if (found?.kind === 'locked') pendingLock.value = found.state
    else if (found) pendingWay.value = found.way
  })

  const stops = [
    effect(() => {
      if (kit.state.value === 'reading' || device.value !== '') return
      device.value = devicesOf(kit)[0] ?? ''
    }),
    effect(() => {
      if (kit.state.value === 'reading') return
      const found = profileOf(device.value, kit)
      const has = piecesOf(found, now())
      profile.value = found
      const stated = pendingLock.value ?? pendingWay.value
      const since = now().toISOString()
      pieces.value =
        stated && !has.lock
          ? { ...has, lock: { step: 'lock', since, checkAgain: since, due: false } }
          : has
      work.abort()
      work = new AbortController()
      const { signal: stopped } = work
      prediction.value = null
      predictionOf(found, now(), stopped).then(
        (value) => {
          if (value && !stopped.aborted) prediction.value = value
        },
        // Without it the steps stand without their ±.
        () => undefined,
      )
    }),
  ]

  return {
    device,
    profile,
    pieces,
    prediction,
    pendingLock,
    way,
    lock() {
      const stored = profile.peek().stored?.data.lock
      if (stored) return stored
      const state = pendingLock.peek()
      if (!state) return null
      return { kind: 'locked', state, since: now().toISOString(), facts: NO_FACTS_YET }
    },
    async stateLock(log, state) {
      pendingLock.value = state
      pendingWay.value = null
      const of = device.peek()
      if (of === '') await storeStatedLock({ kind: 'locked', state })
      else await rememberLock(log, of, NO_FACTS_YET, state, now())
    },
    async lockHeld(log) {
      const lock = profile.peek().stored?.data.lock
      if (lock?.kind !== 'locked') return
      const state = { ...lock.state, lock: 'verified' as const }
      await rememberLock(log, device.peek(), lock.facts, state, now())
    },
    async cannotLock(log, way) {
      const of = device.peek()
      pendingLock.value = null
      pendingWay.value = way
      const stated = { kind: 'cannot be locked', way } as const
      if (of === '') return storeStatedLock(stated)
      const since = now().toISOString()
      await changeCamera(log, of, { lock: { ...stated, since } }, now())
    },
    async skip(log, step) {
      const of = device.peek()
      if (of === '') return
      const skipped = new Set(profile.peek().stored?.data.skipped ?? [])
      skipped.add(step)
      await changeCamera(log, of, { skipped: [...skipped] }, now())
    },
    async seen(log, facts) {
      const of = deviceIdOf(facts) || device.peek()
      if (of === '') return
      const state = pendingLock.peek()
      const known = profileOf(of, kit).stored?.data.lock
      device.value = of
      const blank = known?.kind === 'locked' && known.facts.lens === null
      if (state && known?.kind !== 'locked') await rememberLock(log, of, facts, state, now())
      else if (blank) await rememberLock(log, of, facts, known.state, now())
      else if (pendingWay.peek() && !known) {
        const since = now().toISOString()
        const lock = { kind: 'cannot be locked' as const, way: pendingWay.peek()!, since }
        await changeCamera(log, of, { lock, usedAt: since }, now())
      } else await changeCamera(log, of, { usedAt: now().toISOString() }, now())
      await forgetStatedLock()
    },
    dispose() {
      for (const stop of stops) stop()
      work.abort()
    },
  }
}
