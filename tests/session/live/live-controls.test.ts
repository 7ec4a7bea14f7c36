import { signal } from '@preact/signals'
import { describe, expect, test, vi } from 'vitest'
import { encodeTransfer } from '../../../src/colour/rgb-spaces.ts'
import type { SweepFrame } from '../../../src/light/exposure-sweep/sweep-result.ts'
import type { Region } from '../../../src/light/image.ts'
import { createExposureWork } from '../../../src/session/live/exposure-work.ts'
import {
  checkCurve,
  exposureRange,
  findExposure,
  runSweep,
} from '../../../src/session/live/live-controls.ts'
import type { LiveModel } from '../../../src/session/live/live-model-type.ts'

const RANGE = { min: 1, max: 1000 }
const REGION: Region = { shape: 'rectangle', x: 60, y: 40, width: 24, height: 16 }

/** A stream whose glow has a level of 1 at `full`, in the camera's unit of time. */
function stream({
  full = 200,
  starts = 50,
  offers = { exposureTime: RANGE, exposureMode: ['manual'] } as object,
  region = REGION as Region | null,
  /** Frames until a setting shows in the picture. */
  lag = 0,
} = {}) {
  let exposureTime = starts
  let shown = starts
  let sinceSet = 0
  const set: number[] = []
  const listeners = new Set<() => void>()
  let open = 0
  const camera = {
    capabilities: () => offers,
    settings: () => ({ exposureTime }),
    size: () => ({ width: 160, height: 120 }),
    async apply(name: string, value: number) {
      if (name !== 'exposureTime') throw new Error(`no ${name}`)
      exposureTime = value
      sinceSet = 0
      if (lag === 0) shown = value
      set.push(value)
    },
    onFrame(listener: () => void) {
      listeners.add(listener)
      queueMicrotask(function next() {
        if (!listeners.has(listener)) return
        if (++sinceSet >= lag) shown = exposureTime
        listener()
        queueMicrotask(next)
      })
      return () => listeners.delete(listener)
    },
    frame() {
      open++
      const red = Math.round(255 * encodeTransfer(Math.min(shown / full, 1)))
      return {
        async copy({ left, top, right, bottom }: Record<string, number>) {
          const [width, height] = [right! - left!, bottom! - top!]
          const bytes = new Uint8Array(4 * width * height)
          for (let i = 0; i < bytes.length; i += 4) bytes[i] = red
          return {
            format: 'RGBA',
            width,
            height,
            bytes,
            planes: [{ offset: 0, stride: 4 * width }],
            colour: { matrix: 'rgb', fullRange: true },
          }
        },
        close: () => void open--,
      }
    },
  }
  const swept: { frames: readonly SweepFrame[]; region: Region }[] = []
  let answer: () => Promise<unknown> = async () => ({ kind: 'refused' })
  const model = {
    camera,
    desk: { mainsHz: signal(50) },
    region: signal(region),
    trouble: signal<string | null>(null),
    pause: signal(false),
    curve: { kept: signal<unknown>(null), swept: signal<unknown>(null), useStored: signal(true) },
    bench: {
      sweep(input: (typeof swept)[number]) {
        swept.push(input)
        return answer()
      },
      check(input: (typeof swept)[number]) {
        swept.push(input)
        return answer()
      },
    },
  }
  return {
    model: model as unknown as LiveModel,
    parts: model,
    set,
    swept,
    now: () => exposureTime,
    openFrames: () => open,
    answers(next: () => Promise<unknown>) {
      answer = next
    },
  }
}

describe('the exposure that clips nothing', () => {
  test('is just below the top, in whole half-cycles of the mains', async () => {
    // Three quarters of the top at 150 units of 100 µs: 15 ms, of which 10 ms are whole at 50 Hz.
    const bright = stream({ full: 200 })
    expect(await findExposure(bright.model, 50)).toBeCloseTo(100, 6)
    expect(bright.now()).toBeCloseTo(100, 6)
    // At 60 Hz a half-cycle is 8.3 ms.
    expect(await findExposure(stream({ full: 200 }).model, 60)).toBeCloseTo(1e4 / 120, 6)
    expect(await findExposure(stream({ full: 600 }).model, 50)).toBeCloseTo(400, 6)
  })

  test('below a half-cycle is what the glow asks for', async () => {
    const found = await findExposure(stream({ full: 40, starts: 500 }).model, 50)
    expect(found).toBeGreaterThan(0.6 * 40)
    expect(found).toBeLessThan(0.9 * 40)
  })

  test('stays within what the camera can be set to', async () => {
    const dark = stream({
      full: 1e6,
      offers: { exposureTime: { min: 1, max: 330 }, exposureMode: ['manual'] },
    })
    expect(await findExposure(dark.model, 50)).toBe(300)
    const short = stream({
      full: 10,
      offers: { exposureTime: { min: 40, max: 330 }, exposureMode: ['manual'] },
    })
    expect(await findExposure(short.model, 50)).toBe(40)
  })

  test('is none where it cannot be set, or nothing glows', async () => {
    const fixed = stream({ offers: { exposureTime: RANGE, exposureMode: ['continuous'] } })
    expect(exposureRange(fixed.model.camera)).toBeNull()
    expect(await findExposure(fixed.model, 50)).toBeNull()
    expect(exposureRange(stream({ offers: { exposureMode: ['manual'] } }).model.camera)).toBeNull()
    expect(await findExposure(stream({ region: null }).model, 50)).toBeNull()
  })

  test('so bright that no glow is seen: it is made darker by quarters until one is', async () => {
    const blind = stream({ region: null, starts: 800, full: 40 })
    blind.parts.trouble.value = 'clipped'
    const { camera, region } = blind.parts
    const apply = camera.apply.bind(camera)
    camera.apply = async (name, value) => {
      await apply(name, value)
      if (value < 100) region.value = REGION
    }
    await findExposure(blind.model, 50)
    expect(blind.set.slice(0, 2)).toEqual([200, 50])
  })
})

describe('a sweep by the camera itself', () => {
  test('takes its frames at what was really set, and puts the exposure back', async () => {
    const made = stream({ full: 200, starts: 100 })
    const shares: number[] = []
    const running = runSweep(made.model, (share) => shares.push(share))
    expect(made.parts.pause.value).toBe(true)
    await running
    expect(made.parts.pause.value).toBe(false)
    expect(made.now()).toBe(100)
    expect(made.openFrames()).toBe(0)
    const { frames, region } = made.swept[0]!
    expect(frames.map(({ relativeExposure }) => relativeExposure)).toEqual(made.set.slice(0, -1))
    expect(frames[0]!.relativeExposure).toBe(100)
    // Half of full scale in the first one, as the mean of several frames.
    const [red] = frames[0]!.image.codes
    expect(red).toBeCloseTo(encodeTransfer(0.5), 2)
    // The whole surroundings that fit into the picture, and the region in them.
    expect(region).toMatchObject({ x: 48, y: 40, width: 24, height: 16 })
    expect(frames[0]!.image.width).toBe(120)
    expect(shares).toEqual(shares.toSorted((a, b) => a - b))
    expect(shares.at(-1)).toBeLessThan(1)
  })

  test('puts the exposure back when it fails as well', async () => {
    const made = stream({ starts: 100 })
    made.answers(() => Promise.reject(new Error('worker gone')))
    await expect(runSweep(made.model, () => undefined)).rejects.toThrow('worker gone')
    expect(made.now()).toBe(100)
    expect(made.parts.pause.value).toBe(false)
  })

  test('waits until each setting shows in the picture', async () => {
    const made = stream({ full: 200, starts: 100, lag: 2 })
    await checkCurve(made.model, {} as never)
    const [bright, dark] = made.swept[0]!.frames.map(({ image }) => image.codes[0]!)
    expect(bright).toBeCloseTo(encodeTransfer(0.5), 2)
    expect(dark).toBeCloseTo(encodeTransfer(0.125), 2)
    expect(await findExposure(stream({ full: 200, lag: 2 }).model, 50)).toBeCloseTo(100, 6)
  })

  test('ends where no frame comes any more, and puts the exposure back', async () => {
    vi.useFakeTimers({ toFake: ['setTimeout', 'clearTimeout'] })
    const made = stream({ starts: 100 })
    Object.assign(made.parts.camera, { onFrame: () => () => undefined })
    const running = runSweep(made.model, () => undefined)
    const ended = expect(running).rejects.toThrow('no frames')
    await Promise.resolve()
    vi.advanceTimersByTime(3900)
    expect(made.parts.pause.value).toBe(true)
    vi.advanceTimersByTime(200)
    await ended
    expect([made.parts.pause.value, made.now()]).toEqual([false, 100])
    vi.useRealTimers()
    const blind = stream({ starts: 100 })
    Object.assign(blind.parts.camera, { frame: () => null })
    await expect(runSweep(blind.model, () => undefined)).rejects.toThrow('no frame')
  })

  test('a kept curve is tried at two exposures, two stops apart', async () => {
    const made = stream({ starts: 100 })
    await checkCurve(made.model, {} as never)
    expect(made.swept[0]!.frames.map(({ relativeExposure }) => relativeExposure)).toEqual([100, 25])
  })
})

describe('work with the exposure', () => {
  test('finds it, sweeps, and takes the curve up that was measured', async () => {
    const made = stream({ full: 200 })
    made.answers(async () => ({ kind: 'measured', curve: 'of today' }))
    const work = createExposureWork(made.model, () => undefined)
    const running = work.begin('sweep')
    expect(work.busy.value).toBe('sweep')
    await work.begin('exposure')
    expect(work.busy.value).toBe('sweep')
    await running
    expect(work.busy.value).toBeNull()
    expect(work.failed.value).toBe(false)
    // 100 units of 100 µs.
    expect(work.exposure.value).toBeCloseTo(0.01, 9)
    expect(made.parts.curve.swept.value).toMatchObject({ curve: 'of today' })
    expect(work.progress.value).toBeGreaterThan(0.5)
  })

  test('a refused sweep changes no curve', async () => {
    const made = stream()
    const work = createExposureWork(made.model, () => undefined)
    await work.begin('sweep')
    expect(work.result.value).toMatchObject({ kind: 'refused' })
    expect(made.parts.curve.swept.value).toBeNull()
  })

  test('a kept curve that no longer agrees is not used, and that is told', async () => {
    const told: unknown[] = []
    const made = stream()
    made.parts.curve.kept.value = { id: 'kept', curve: {} }
    const work = createExposureWork(made.model, (id, check) => told.push([id, check]))
    made.answers(async () => ({ kind: 'checked', agrees: true }))
    await work.begin('exposure')
    expect(made.parts.curve.useStored.value).toBe(true)
    made.answers(async () => ({ kind: 'checked', agrees: false }))
    await work.begin('exposure')
    expect(made.parts.curve.useStored.value).toBe(false)
    expect(told).toEqual([
      ['kept', { kind: 'checked', agrees: true }],
      ['kept', { kind: 'checked', agrees: false }],
    ])
    expect(work.check.value).toMatchObject({ agrees: false })
  })

  test('is not tried against a kept curve while a sweep of today counts', async () => {
    const made = stream()
    made.parts.curve.kept.value = { id: 'kept', curve: {} }
    made.parts.curve.swept.value = { id: 'swept' }
    const work = createExposureWork(made.model, () => undefined)
    await work.begin('exposure')
    expect(made.swept).toEqual([])
    expect(work.check.value).toBeNull()
  })

  test('says that it failed, and can be begun again', async () => {
    const made = stream()
    made.answers(() => Promise.reject(new Error('worker gone')))
    const work = createExposureWork(made.model, () => undefined)
    await work.begin('sweep')
    expect(work.failed.value).toBe(true)
    expect(work.busy.value).toBeNull()
    made.answers(async () => ({ kind: 'refused' }))
    await work.begin('sweep')
    expect(work.failed.value).toBe(false)
  })
})
