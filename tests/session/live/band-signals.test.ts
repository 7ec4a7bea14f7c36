import { afterEach, expect, test, vi } from 'vitest'
import { startBandSignals } from '../../../src/session/live/band-signals.ts'

afterEach(() => {
  vi.unstubAllGlobals()
  vi.useRealTimers()
})

/** What was heard and felt: pitches, patterns. */
function listen() {
  const pitches: number[] = []
  const buzzes: unknown[] = []
  let closed = false
  class MadeAudio {
    readonly currentTime = 0
    readonly destination = {}
    createOscillator() {
      const frequency = { value: 0 }
      return {
        frequency,
        connect: (next: unknown) => next,
        start: () => void pitches.push(frequency.value),
        stop: () => undefined,
      }
    }
    createGain() {
      const gain = { setValueAtTime: () => undefined, linearRampToValueAtTime: () => undefined }
      return { gain, connect: (next: unknown) => next }
    }
    async close() {
      closed = true
    }
  }
  vi.stubGlobal('AudioContext', MadeAudio)
  vi.stubGlobal('navigator', { vibrate: (pattern: unknown) => buzzes.push(pattern) > 0 })
  return { pitches, buzzes, isClosed: () => closed }
}

test('below, inside and above sound and feel different, at once when they change', () => {
  const { pitches, buzzes, isClosed } = listen()
  const signals = startBandSignals()
  for (const place of ['below', 'inside', 'above'] as const) signals.tell(place)
  const [low, middle, high] = pitches as [number, number, number]
  expect(low).toBeLessThan(middle)
  expect(middle).toBeLessThan(high)
  expect(new Set(buzzes.map(String)).size).toBe(3)
  signals.close()
  expect(isClosed()).toBe(true)
})

test('the same place is told again now and then, without vibration', () => {
  vi.useFakeTimers({ toFake: ['performance'] })
  const { pitches, buzzes } = listen()
  const signals = startBandSignals()
  for (let ms = 0; ms < 6000; ms += 60) {
    signals.tell('below')
    vi.advanceTimersByTime(60)
  }
  expect(pitches.length).toBeGreaterThanOrEqual(3)
  expect(pitches.length).toBeLessThanOrEqual(5)
  expect(buzzes).toHaveLength(1)
})
