import { batch, computed, type ReadonlySignal, type Signal, signal } from '@preact/signals'
import { linearP3FromSrgb } from '../../colour/rgb-spaces.ts'
import { figureByLine, type LiveFigure, type LiveLine } from '../../estimate/live/live-line.ts'
import type { BalanceState, GlowEstimate, GlowInput } from '../../estimate/types.ts'
import type { ToneCurve } from '../../light/exposure-sweep/tone-curve.ts'
import type { Region } from '../../light/image.ts'
import { evenBox, frameCodes } from '../../light/live/frame-codes.ts'
import { frameMean } from '../../light/live/frame-mean.ts'
import { Rolling, type RollingValue } from '../../light/live/rolling.ts'
import type { PhotoMeasurement } from '../../light/measure-photo.ts'
import { LARGEST_CLIPPED_SHARE } from '../../light/patch.ts'
import { pixelBox } from '../../light/region.ts'
import type { LiveCamera } from '../../sources/live/live-camera.ts'
import { openLiveBench } from '../../sources/live/live-client.ts'
import { DriftWatch, type Locks, lockCamera } from '../../sources/live/lock.ts'
import type { KitModel } from '../kit/kit-model.ts'
import { type Choices, surfaceOf, windowOf } from '../reading/glow-input.ts'
import { absenceTrouble, balanceOf, type LiveTrouble, moved, sameRegion } from './live-judgement.ts'

export interface LiveModel {
  readonly camera: LiveCamera
  readonly locks: ReadonlySignal<Locks | null>
  readonly region: ReadonlySignal<Region | null>
  /** Follows the glow by itself; else the sight stays where it is. */
  readonly follow: Signal<boolean>
  readonly figure: ReadonlySignal<LiveFigure | null>
  readonly rolling: ReadonlySignal<RollingValue | null>
  readonly trouble: ReadonlySignal<LiveTrouble | null>
  readonly measurement: ReadonlySignal<PhotoMeasurement | null>
  readonly line: ReadonlySignal<LiveLine | null>
  /** Frames and canvas differ on this device: pixels are read by the canvas. */
  readonly canvasOnly: ReadonlySignal<boolean>
  readonly held: Signal<boolean>
  readonly choices: Signal<Omit<Choices, 'balanceState'>>
  readonly curve: Signal<ToneCurve | null>
  readonly balanceState: ReadonlySignal<BalanceState>
  /** The sweep wants the camera for itself. */
  readonly pause: Signal<boolean>
  readonly bench: ReturnType<typeof openLiveBench>
  /** The whole estimate of the rolling value, for the log; null without a figure. */
  wholeEstimate(): Promise<{ estimate: GlowEstimate; input: GlowInput } | null>
  setSight(region: Region): void
  lock(): Promise<void>
  dispose(): void
}

/** Between looks at the whole frame, ms. */
const LOOK_MS = 250
/** Looks from one search for the glow to the next; between them the sight stays. */
const FIND_EVERY = 4
/** Between figures on the screen, ms: faster than ten a second, slower than frames may come. */
const SHOW_MS = 60

/** @param kit references of the kit count where they are of this camera */
export function createLiveModel(
  camera: LiveCamera,
  { references }: Pick<KitModel, 'references'>,
): LiveModel {
  const bench = openLiveBench()
  const locks = signal<Locks | null>(null)
  const region = signal<Region | null>(null)
  const follow = signal(true)
  const figure = signal<LiveFigure | null>(null)
  const rolled = signal<RollingValue | null>(null)
  const trouble = signal<LiveTrouble | null>('reading')
  const measurement = signal<PhotoMeasurement | null>(null)
  const line = signal<LiveLine | null>(null)
  const canvasOnly = signal(false)
  const held = signal(false)
  const pause = signal(false)
  const choices = signal<Omit<Choices, 'balanceState'>>({
    materialId: 'steel-oxidised',
    cover: 'none',
  })
  const curve = signal<ToneCurve | null>(null)
  const rolling = new Rolling()
  const drift = new DriftWatch()
  /** ln(G/R) of plain frame means at which {@link line} was made. */
  let anchor = 0
  let closed = false
  let reading = false
  let looking = false
  let verified = false
  let lastLook = 0
  let count = 0
  let lastShown = 0

  const balanceState = computed<BalanceState>(() => balanceOf(locks.value, camera))

  const lnRatio = (linear: readonly [number, number, number]) => {
    const [r, g] = linearP3FromSrgb(linear)
    return r > 0 && g > 0 ? Math.log(g / r) : Number.NaN
  }

  const show = (now: number) => {
    if (now - lastShown < SHOW_MS) return
    lastShown = now
    const value = rolling.get()
    const at = line.peek()
    const found =
      value && at
        ? figureByLine(at, at.lnRatio + value.value - anchor, value.standardUncertainty)
        : null
    batch(() => {
      rolled.value = value
      figure.value = found
      if (found) trouble.value = value && value.motion !== 'steady' ? value.motion : null
    })
  }

  const fail = (what: LiveTrouble) => {
    rolling.clear()
    batch(() => {
      rolled.value = null
      figure.value = null
      trouble.value = what
    })
  }

  const readFrame = async () => {
    const where = region.peek()
    if (closed || reading || held.peek() || pause.peek() || !where) return
    const frame = camera.frame()
    if (!frame) return
    reading = true
    try {
      const box = evenBox(pixelBox(where, frame.width, frame.height), frame.width, frame.height)
      if (box.right <= box.left || box.bottom <= box.top) return fail('too small')
      const mean = frameMean(frameCodes(await frame.copy(box)))
      if (closed) return
      if (mean.clippedShare > LARGEST_CLIPPED_SHARE) return fail('clipped')
      const value = lnRatio(mean.linear)
      if (!Number.isFinite(value)) return
      rolling.add(value, Math.log(mean.linear[0]))
      show(performance.now())
    } finally {
      frame.close()
      reading = false
    }
  }

  const takeLook = async () => {
    if (closed || looking || held.peek() || pause.peek()) return
    if (performance.now() - lastLook < LOOK_MS) return
    const frame = camera.frame()
    if (!frame) return
    looking = true
    try {
      const { width, height } = frame
      const box = evenBox({ left: 0, top: 0, right: width, bottom: height }, width, height)
      const pixels = await frame.copy(box)
      const found = await bench.look({
        pixels,
        sight: follow.peek() && ++count % FIND_EVERY === 1 ? null : region.peek(),
        settings: {
          channels: 'display-p3',
          cameraToXyz: null,
          balance: null,
          balanceState: balanceState.peek(),
          surface: surfaceOf(choices.peek().materialId),
          window: windowOf(choices.peek().cover),
          cameraId: camera.id,
          takenAt: null,
          references: references.peek(),
        },
        curve: { id: `${camera.id} stream`, recovered: curve.peek() },
      })
      if (closed || pause.peek()) return
      take(found)
    } catch {
      // The bench was closed meanwhile, or the frame went away: the next look tells.
    } finally {
      frame.close()
      looking = false
      lastLook = performance.now()
    }
  }

  const take = (found: Awaited<ReturnType<typeof bench.look>>) => {
    if (found.surroundings) drift.add(...found.surroundings)
    const now = locks.peek()
    if (now?.whiteBalance === 'locked' && drift.drifts())
      locks.value = { ...now, whiteBalance: 'drifts' }
    measurement.value = found.measurement
    if (!found.region) {
      region.value = null
      line.value = null
      return fail(absenceTrouble(found.absence))
    }
    if (moved(region.peek(), found.region)) {
      region.value = found.region
      rolling.clear()
    } else if (!sameRegion(region.peek(), found.region)) return
    const refusal = found.measurement?.findings.find(({ weight }) => weight === 'refusal')?.code
    if (!found.line || refusal) {
      line.value = null
      return fail(refusal === 'clipped' ? 'clipped' : refusal === 'dark' ? 'too dark' : 'too small')
    }
    line.value = found.line
    if (found.plain) anchor = lnRatio(found.plain)
    const { estimate } = found.line
    if (estimate.kind === 'below range') fail('below range')
    else if (estimate.kind === 'no number')
      fail(
        estimate.reason === 'above range'
          ? 'above range'
          : estimate.reason === 'clipped'
            ? 'clipped'
            : 'too dark',
      )
    if (!verified) {
      verified = true
      const { width, height } = camera.size()
      void camera.verify(pixelBox(found.region, width, height)).then((agrees) => {
        canvasOnly.value = !agrees
      })
    }
  }

  const stopFrames = camera.onFrame(() => {
    void readFrame()
    void takeLook()
  })

  return {
    camera,
    locks,
    region,
    follow,
    figure,
    rolling: rolled,
    trouble,
    measurement,
    line,
    canvasOnly,
    held,
    choices,
    curve,
    balanceState,
    pause,
    bench,
    async wholeEstimate() {
      const at = line.peek()
      const value = rolled.peek()
      if (!at || !value) return null
      const [r, , b] = at.input.glow.mean
      const green = r * Math.exp(at.lnRatio + value.value - anchor)
      const input: GlowInput = { ...at.input, glow: { ...at.input.glow, mean: [r, green, b] } }
      return { estimate: await bench.estimate(input), input }
    },
    setSight(next) {
      follow.value = false
      region.value = next
      rolling.clear()
    },
    async lock() {
      locks.value = await lockCamera(camera)
      drift.clear()
    },
    dispose() {
      closed = true
      stopFrames()
      bench.close()
      camera.close()
    },
  }
}
