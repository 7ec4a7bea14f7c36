import { batch, computed } from '@preact/signals'
import { figureByLine, inputAt, type LiveLine } from '../../estimate/live/live-line.ts'
import type { BalanceState } from '../../estimate/types.ts'
import type { Region } from '../../light/image.ts'
import { evenBox } from '../../light/live/frame-codes.ts'
import { Rolling } from '../../light/live/rolling.ts'
import { pixelBox } from '../../light/region.ts'
import type { Size } from '../../light/region-geometry.ts'
import { newUuid } from '../../log/schema/uuid.ts'
import { DriftWatch } from '../../sources/live/drift-watch.ts'
import { type FrameBase, glowLight, lnRatioOf } from '../../sources/live/frame-ratio.ts'
import type { LiveCamera } from '../../sources/live/live-camera.ts'
import { openLiveBench } from '../../sources/live/live-client.ts'
import type { FrameLook } from '../../sources/live/live-operations.ts'
import { lockCamera } from '../../sources/live/lock.ts'
import { watchFrames } from '../../sources/live/watch-frames.ts'
import type { KitModel } from '../kit/kit-model.ts'
import { surfaceOf, windowOf } from '../reading/glow-input.ts'
import { frameValue } from './frame-value.ts'
import { createLiveCurve } from './live-curve.ts'
import type { LiveDesk } from './live-desk.ts'
import {
  absenceTrouble,
  balanceOf,
  hasMoved,
  type LiveTrouble,
  refusalTrouble,
  sameRegion,
  turnedSight,
} from './live-judgement.ts'
import type { LiveFrameReading, LiveModel, LiveSurroundings } from './live-model-type.ts'
import { FIND_EVERY, LOOK_MS, SHOW_MS } from './live-pace.ts'
import { liveSignals } from './live-signals.ts'
import { lookSettings, streamExposure } from './look-settings.ts'
import { createSinceHold } from './since-hold.ts'

/** @param kit references of the kit count where they are of this camera */
export function createLiveModel(
  camera: LiveCamera,
  kit: Pick<KitModel, 'references' | 'curves' | 'cameras'>,
  desk: LiveDesk,
  { bench, nowMs }: LiveSurroundings = {
    bench: openLiveBench(),
    nowMs: () => performance.now(),
  },
): LiveModel {
  const shown = liveSignals(camera)
  const { size, locks, region, follow, cardRegion, card, byCard, figure, rolling: rolled } = shown
  const { trouble, measurement, canvasOnly, held, pause } = shown
  const curve = createLiveCurve(camera, kit)
  const rolling = new Rolling()
  const drift = new DriftWatch()
  const listeners = new Set<(frame: LiveFrameReading) => void>()
  let line: LiveLine | null = null
  /** ln(G/R) of plain frame means (glow, less that of the card) at which {@link line} stands. */
  let anchor = 0
  /** The same as recordings take it, and what it was taken off by. */
  let courseAnchor = 0
  let base: FrameBase = { background: null, recovered: null }
  let cardId = ''
  let closed = false
  let reading = false
  let looking = false
  let verified = false
  let lastLook = Number.NEGATIVE_INFINITY
  let lastShown = Number.NEGATIVE_INFINITY
  let count = 0

  const balanceState = computed<BalanceState>(() => balanceOf(locks.value, camera))
  const stands = () => closed || held.peek() || pause.peek()

  const show = (now: number) => {
    if (now - lastShown < SHOW_MS) return
    lastShown = now
    const value = rolling.get()
    const found =
      value && line
        ? figureByLine(line, line.lnRatio + value.value - anchor, value.standardUncertainty)
        : null
    batch(() => {
      rolled.value = value
      figure.value = found
      // A line without a temperature has said why.
      if (!line || line.slopeK === null) return
      const motion = value && value.motion !== 'steady' ? value.motion : null
      trouble.value = found ? motion : 'reading'
    })
  }

  const tell = (frame: LiveFrameReading) => {
    for (const listener of listeners) listener(frame)
  }

  const fail = (what: LiveTrouble) => {
    tell({ trouble: what })
    rolling.clear()
    batch(() => {
      rolled.value = null
      figure.value = null
      trouble.value = what
    })
  }

  const readFrame = async () => {
    const where = region.peek()
    if (stands() || reading || !where) return
    const frame = camera.frame()
    if (!frame) return
    reading = true
    try {
      const beside = byCard.peek() ? cardRegion.peek() : null
      const seen = await frameValue(frame, where, beside, base)
      // A sight or a card that changed meanwhile: this frame belongs to neither.
      if (stands() || where !== region.peek() || (beside !== null) !== byCard.peek()) return
      if (typeof seen === 'string') return fail(seen)
      if (!seen) return
      rolling.add(seen.lnRatio, seen.lnRed)
      const { lnRatio: plain, lnRed } = seen.course
      if (line && Number.isFinite(plain)) tell({ plain, lnRed, line, anchor: courseAnchor })
      show(nowMs())
    } finally {
      frame.close()
      reading = false
    }
  }

  const takeLook = async () => {
    if (stands() || looking || nowMs() - lastLook < LOOK_MS) return
    const frame = camera.frame()
    if (!frame) return
    looking = true
    const onCard = cardRegion.peek()
    try {
      const { width, height } = frame
      const box = evenBox({ left: 0, top: 0, right: width, bottom: height }, width, height)
      const found = await bench.look({
        pixels: await frame.copy(box),
        sight: follow.peek() && ++count % FIND_EVERY === 1 ? null : region.peek(),
        card: onCard && { id: cardId, region: onCard, light: desk.cardLight.peek() },
        settings: lookSettings(camera, kit, desk, balanceState.peek()),
        exposure: streamExposure(locks.peek(), camera),
        curve: curve.inUse.peek(),
      })
      // An answer about a frame of another size, another card, or after the hold is dropped.
      const turned = width !== size.peek().width || height !== size.peek().height
      if (!stands() && !turned && onCard === cardRegion.peek()) take(found)
    } catch (error) {
      // The bench was closed meanwhile, or the frame went away: the next look tells.
      if (error instanceof DOMException || stands()) return
      // Figures would go on by the line of a former look.
      line = null
      fail('not read')
    } finally {
      frame.close()
      looking = false
      lastLook = nowMs()
    }
  }

  const take = (found: FrameLook) => {
    const balanced = found.card?.balance != null
    batch(() => {
      card.value = found.card?.measurement ?? null
      measurement.value = found.measurement
      if (byCard.peek() === balanced) return
      byCard.value = balanced
      rolling.clear()
    })
    if (!found.region) {
      region.value = null
      line = null
      return fail(absenceTrouble(found.absence))
    }
    if (hasMoved(region.peek(), found.region)) {
      region.value = found.region
      rolling.clear()
      drift.clear()
    } else if (!sameRegion(region.peek(), found.region)) return
    watchDrift(found)
    const refusal = found.measurement?.findings.find(({ weight }) => weight === 'refusal')?.code
    line = refusal ? null : found.line
    if (!line || !found.plain) return fail(refusalTrouble(refusal))
    const onCard = balanced && found.card ? lnRatioOf(found.card.plain) : 0
    const offset = onCard + found.lnRatio - line.lnRatio // The line may be of an earlier look.
    anchor = lnRatioOf(found.plain) - offset
    base = { background: found.background, recovered: curve.inUse.peek().recovered }
    courseAnchor = lnRatioOf(glowLight(found.plain, base)) - offset
    const { estimate } = line
    if (estimate.kind === 'below range') fail('below range')
    else if (estimate.kind === 'no number')
      fail(estimate.reason === 'above range' ? 'above range' : refusalTrouble(estimate.reason))
    if (verified) return
    verified = true
    const { width, height } = size.peek()
    void camera.verify(pixelBox(found.region, width, height)).then((agrees) => {
      canvasOnly.value = !agrees
    })
  }

  const watchDrift = ({ surroundings }: FrameLook) => {
    const now = locks.peek()
    if (now?.whiteBalance !== 'locked' || !surroundings) return
    drift.add(surroundings)
    if (drift.drifts()) locks.value = { ...now, whiteBalance: 'drifts' }
  }

  /** A turned phone turns the frames: a fixed sight keeps its share of the picture, a card is lost. */
  const turn = (next: Size) => {
    const before = size.peek()
    const sight = follow.peek() ? null : region.peek()
    batch(() => {
      size.value = next
      region.value = sight && turnedSight(sight, before, next)
      setCard(null)
    })
    drift.clear()
    // What is held can still be saved.
    if (held.peek()) return
    line = null
    fail('reading')
  }

  const setCard = (next: Region | null) => {
    if (next && !cardRegion.peek()) cardId = `live card ${newUuid()}`
    batch(() => {
      cardRegion.value = next
      card.value = null
    })
    lastLook = Number.NEGATIVE_INFINITY
  }

  const stopWatching = watchFrames(
    camera,
    {
      onFrame() {
        const next = camera.size()
        const before = size.peek()
        if (next.width !== before.width || next.height !== before.height) turn(next)
        void readFrame()
        void takeLook()
      },
      onStall: () => !stands() && fail('paused'),
    },
    nowMs,
  )

  const inputNow = () => {
    const value = rolled.peek()
    if (!line || !value) return null
    // What was said after the latest look counts too.
    const { materialId, cover } = desk.choices.peek()
    return {
      ...inputAt(line, line.lnRatio + value.value - anchor),
      surface: surfaceOf(materialId),
      window: windowOf(cover),
    }
  }
  const sinceHold = createSinceHold({ held, figure, bench, inputNow })

  return {
    ...shown,
    camera,
    desk,
    sinceHold: sinceHold.difference,
    curve,
    balanceState,
    bench,
    onReading(listener) {
      listeners.add(listener)
      return () => listeners.delete(listener)
    },
    async wholeEstimate() {
      const input = inputNow()
      return input && { estimate: await bench.estimate(input), input }
    },
    setSight(next) {
      follow.value = false
      region.value = next
      rolling.clear()
      drift.clear()
    },
    setCard,
    async lock() {
      locks.value = await lockCamera(camera)
      drift.clear()
    },
    dispose() {
      closed = true
      sinceHold.dispose()
      stopWatching()
      bench.close()
      camera.close()
    },
  }
}
