import { afterEach, expect, test, vi } from 'vitest'
import { pictureAt, playFrames } from '../../../src/sources/video/play-frames.ts'

afterEach(() => {
  vi.unstubAllGlobals()
  vi.useRealTimers()
})

/** A video element whose film has begun; `shows` are the times that it plays. */
function standIn(shows: readonly number[] = []) {
  const told: ((now: number, frame: { mediaTime: number }) => void)[] = []
  const element = {
    onloadeddata: () => {},
    onerror: () => {},
    onended: () => {},
    error: { message: 'no data' },
    ended: false,
    paused: true,
    set src(_: string) {
      queueMicrotask(() => this.onloadeddata())
    },
    set currentTime(_: number) {
      queueMicrotask(() => this.onerror())
    },
    requestVideoFrameCallback(tell: (typeof told)[number]) {
      told.push(tell)
    },
    async play() {
      this.paused = false
      for (const mediaTime of shows) {
        await new Promise((resolve) => setTimeout(resolve, 1))
        told.shift()?.(0, { mediaTime })
      }
      this.ended = true
      this.onended()
    },
    pause() {
      this.paused = true
    },
    load() {},
    removeAttribute() {},
  }
  vi.stubGlobal('document', { createElement: () => element })
  return element
}

const notNow = () => Promise.reject(new DOMException('not usable', 'InvalidStateError'))
const film = new Blob([])

test('a film that breaks on the way to a picture is refused, not waited for', async () => {
  standIn()
  await expect(pictureAt(film, 'avc', 9)).rejects.toMatchObject({
    refusal: { code: 'broken', where: 'no data' },
  })
})

test('a busy browser that has no picture to give yet is asked again', async () => {
  vi.useFakeTimers()
  standIn()
  const picture = {}
  const bitmap = vi.fn().mockImplementationOnce(notNow).mockImplementationOnce(notNow)
  vi.stubGlobal('createImageBitmap', bitmap.mockResolvedValue(picture))
  const asked = pictureAt(film, 'vp8', 0)
  await vi.advanceTimersByTimeAsync(1000)
  expect(await asked).toBe(picture)
})

test('a film that never shows a picture is refused in the end, as damaged', async () => {
  vi.useFakeTimers()
  standIn()
  vi.stubGlobal('createImageBitmap', notNow)
  const asked = pictureAt(film, 'vp8', 0)
  const refused = expect(asked).rejects.toMatchObject({ refusal: { code: 'broken' } })
  await vi.advanceTimersByTimeAsync(60_000)
  await refused
})

test('while a film plays, a picture that cannot be had is passed over, and no other takes its time', async () => {
  const video = standIn([0, 0.1, 0.2, 0.3])
  let asked = 0
  vi.stubGlobal('createImageBitmap', () =>
    asked++ === 1 ? notNow() : Promise.resolve({ asked: asked - 1 }),
  )
  const taken: unknown[] = []
  await playFrames(
    film,
    'vp8',
    async (seconds, picture) => {
      taken.push([seconds, picture])
    },
    new AbortController().signal,
  )
  expect(video.ended).toBe(true)
  expect(taken).toEqual([
    [0, { asked: 0 }],
    [0.2, { asked: 2 }],
    [0.3, { asked: 3 }],
  ])
})
