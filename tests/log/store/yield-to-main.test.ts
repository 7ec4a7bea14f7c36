import { afterEach, expect, test, vi } from 'vitest'
import { mainYielder } from '../../../src/log/store/yield-to-main.ts'

afterEach(() => {
  vi.useRealTimers()
})

test('the screen has its turn when a slice is used up, and not before', async () => {
  vi.useFakeTimers({ toFake: ['performance'] })
  const turn = mainYielder()
  /** Whether what the screen has waiting is done during a step. */
  const screenHadItsTurn = async () => {
    let had = false
    const waiting = new Promise<void>((resolve) => {
      const { port1, port2 } = new MessageChannel()
      port1.onmessage = () => {
        had = true
        port1.close()
        resolve()
      }
      port2.postMessage(null)
    })
    await turn()
    const during = had
    await waiting
    return during
  }
  expect(await screenHadItsTurn()).toBe(false)
  // A frame of a quick screen takes 8.3 ms (120 a second); a task of 50 ms is felt (RAIL, common practice).
  vi.advanceTimersByTime(3)
  expect(await screenHadItsTurn()).toBe(false)
  vi.advanceTimersByTime(13)
  expect(await screenHadItsTurn()).toBe(true)
  // The next slice counts from there.
  expect(await screenHadItsTurn()).toBe(false)
})
