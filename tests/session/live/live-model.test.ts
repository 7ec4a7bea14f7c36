import { effect } from '@preact/signals'
import * as v from 'valibot'
import { afterEach, describe, expect, test, vi } from 'vitest'
import type { KitItem } from '../../../src/log/schema/types.ts'
import type { Triple } from '../../../src/numerics/matrix3.ts'
import { cameraData } from '../../../src/session/kit/camera-data.ts'
import { CARD_REGION, madeStream } from './made-stream.ts'

const LOCKABLE = {
  offers: { whiteBalanceMode: ['continuous', 'manual'] },
  starts: { whiteBalanceMode: 'continuous' },
}
const TRUTH_K = 1273

afterEach(() => void vi.useRealTimers())

describe('a live reading', () => {
  test('holds the simulated temperature within its interval', async () => {
    const { model, frames } = madeStream()
    await frames(20)
    const { temperatureK, expandedUncertaintyK } = model.figure.peek()!
    expect(Math.abs(temperatureK - TRUTH_K)).toBeLessThan(expandedUncertaintyK)
  })

  // At frame rates from ten a second on; a frame is delivered every 1000/rate ms of the model's clock.
  test.each([10, 24, 60])(
    'is refreshed at least ten times a second at %i frames a second',
    async (rate) => {
      const { model, frames } = madeStream({ frameMs: 1000 / rate })
      await frames(rate)
      let readings = -1
      const stop = effect(() => {
        if (model.rolling.value) readings++
      })
      await frames(2 * rate)
      stop()
      expect(readings / 2).toBeGreaterThanOrEqual(10)
      expect(readings).toBeLessThanOrEqual(2 * rate)
    },
  )

  test('leaves no frame open and no listener behind', async () => {
    const { model, frames, openFrames, listeners, isClosed } = madeStream()
    await frames(60)
    expect(openFrames()).toBe(0)
    model.dispose()
    expect(listeners()).toBe(0)
    expect(isClosed()).toBe(true)
    await frames(3)
    expect(openFrames()).toBe(0)
  })

  test('shows no figure by the line of a look that is no longer made', async () => {
    const { model, frames, breakLooks } = madeStream()
    await frames(20)
    breakLooks(true)
    await frames(60)
    expect(model.figure.peek()).toBeNull()
    expect(model.trouble.peek()).toBe('not read')
    breakLooks(false)
    await frames(60)
    expect(model.figure.peek()).not.toBeNull()
  })

  test('held, it stands still whatever the picture does', async () => {
    const { model, frames, show } = madeStream()
    await frames(20)
    model.held.value = true
    const held = model.figure.peek()
    show({ temperatureK: 1100 })
    await frames(30)
    expect(model.figure.peek()).toEqual(held)
    // Also when the phone is turned to look at it.
    show({ width: 180, height: 320 })
    await frames(3)
    expect(model.figure.peek()).toEqual(held)
    const whole = await model.wholeEstimate()
    const saved = whole?.estimate.kind === 'temperature' ? whole.estimate.temperatureK : 0
    expect(Math.abs(saved - held!.temperatureK)).toBeLessThan(1)
  })
})

describe('white balance', () => {
  test('that says locked and drifts is found out by the picture', async () => {
    const { model, frames, show } = madeStream({ made: LOCKABLE })
    await model.lock()
    expect(model.locks.peek()?.whiteBalance).toBe('locked')
    await frames(60)
    expect(model.locks.peek()?.whiteBalance).toBe('locked')
    const honest = model.figure.peek()!.expandedUncertaintyK
    await frames(200, (i) => i % 10 === 0 && show({ gains: [1 - 0.0006 * i, 1, 1 + 0.0006 * i] }))
    expect(model.locks.peek()?.whiteBalance).toBe('drifts')
    expect(model.balanceState.peek().kind).toBe('automatic')
    await frames(20)
    expect(model.figure.peek()!.expandedUncertaintyK).toBeGreaterThan(honest)
    await model.lock()
    expect(model.locks.peek()?.whiteBalance).toBe('locked')
  })

  test('at work is taken out by a grey card frame by frame', async () => {
    const { model, frames, show } = madeStream()
    model.setCard(CARD_REGION)
    await frames(30)
    expect(model.byCard.peek()).toBe(true)
    const before = model.figure.peek()!
    // Within less than a look: only single frames can follow.
    const gains: Triple = [0.95, 1, 1.05]
    await frames(4)
    show({ gains })
    await frames(3)
    const during = model.figure.peek()!
    await frames(60)
    const after = model.figure.peek()!
    // What a diagonal in P3 leaves of gains in sRGB (of blue twice as much, which speaks of a leak),
    // and rounding to codes; without the card 5 % of G/R are 17 K.
    expect(Math.abs(during.temperatureK - before.temperatureK)).toBeLessThan(5)
    expect(Math.abs(after.temperatureK - before.temperatureK)).toBeLessThan(5)
    const bare = madeStream()
    await bare.frames(30)
    const first = bare.model.figure.peek()!.temperatureK
    bare.show({ gains })
    await bare.frames(60)
    expect(bare.model.figure.peek()!.temperatureK - first).toBeGreaterThan(10)
  })

  test('a test of the camera’s filter counts in its live picture', async () => {
    const tested = (seen: boolean) =>
      madeStream({
        cameras: [
          {
            item: {} as KitItem,
            data: v.parse(cameraData, {
              device: 'Made up',
              liveIds: ['made-up stream'],
              leakTests: [{ test: 'hot plate', seen }],
            }),
          },
        ],
      })
    const leakOf = async (seen: boolean) => {
      const { model, frames } = tested(seen)
      await frames(30)
      const whole = await model.wholeEstimate()
      return whole?.estimate.kind === 'temperature' ? whole.estimate.leak.median : Number.NaN
    }
    expect(await leakOf(true)).toBeGreaterThan(2 * (await leakOf(false)))
  })

  test('a card narrows what automatic white balance leaves open, and goes into the log by value', async () => {
    const made = { offers: {}, starts: { whiteBalanceMode: 'continuous' } }
    const { model, frames } = madeStream({ made })
    await model.lock()
    await frames(30)
    const without = model.figure.peek()!.expandedUncertaintyK
    expect((await model.wholeEstimate())?.input.balance).toBeNull()
    model.setCard(CARD_REGION)
    await frames(30)
    expect(model.figure.peek()!.expandedUncertaintyK).toBeLessThan(without)
    const whole = await model.wholeEstimate()
    expect(whole?.input.balance?.id).toMatch(/^live card /)
    expect(whole?.input.balance?.light.kind).toBe('daylight')
  })

  test('a frame beside the card does not count, and says why', async () => {
    const { model, frames } = madeStream()
    model.setCard({ ...CARD_REGION, x: 150, y: 80 })
    await frames(20)
    expect(model.byCard.peek()).toBe(false)
    expect(model.card.peek()?.findings.map(({ code }) => code)).toContain('on the glow')
    expect(model.figure.peek()).not.toBeNull()
  })
})

describe('what happens to a stream', () => {
  test('a phone that is turned starts anew, keeps a fixed sight inside and loses the card', async () => {
    const { model, frames, show } = madeStream()
    model.setCard(CARD_REGION)
    await frames(20)
    show({ width: 180, height: 320 })
    await frames(20)
    expect(model.size.peek()).toEqual({ width: 180, height: 320 })
    expect(model.cardRegion.peek()).toBeNull()
    const { temperatureK, expandedUncertaintyK } = model.figure.peek()!
    expect(Math.abs(temperatureK - TRUTH_K)).toBeLessThan(expandedUncertaintyK)

    const fixed = madeStream()
    await fixed.frames(5)
    fixed.model.setSight({ shape: 'rectangle', x: 280, y: 60, width: 30, height: 30 })
    fixed.show({ width: 180, height: 320 })
    await fixed.frames(1)
    const sight = fixed.model.region.peek()!
    expect(sight.x + sight.width).toBeLessThanOrEqual(180)
    expect(sight.y + sight.height).toBeLessThanOrEqual(320)
    expect(fixed.model.follow.peek()).toBe(false)
  })

  test('a call that mutes the track takes the figure away at once; frames bring it back', async () => {
    const { model, frames, mute } = madeStream()
    await frames(20)
    mute(true)
    expect(model.figure.peek()).toBeNull()
    expect(model.trouble.peek()).toBe('paused')
    mute(false)
    await frames(20)
    expect(model.figure.peek()).not.toBeNull()
    expect(model.trouble.peek()).toBeNull()
  })

  test('a stream that stands still without a word does not leave an old figure standing', async () => {
    vi.useFakeTimers({ toFake: ['setInterval', 'clearInterval'] })
    const { model, frames, pass } = madeStream()
    await frames(20)
    expect(model.figure.peek()).not.toBeNull()
    pass(2000)
    vi.advanceTimersByTime(1000)
    expect(model.figure.peek()).toBeNull()
    expect(model.trouble.peek()).toBe('paused')
    model.dispose()
  })

  test('a clipped glow gives no figure', async () => {
    const { model, frames, show } = madeStream()
    await frames(20)
    show({ gains: [4, 4, 4] })
    await frames(20)
    expect(model.figure.peek()).toBeNull()
    expect(model.trouble.peek()).toBe('clipped')
  })
})
