import { afterEach, expect, test, vi } from 'vitest'
import {
  forgetRunning,
  holdRunning,
  runningElsewhere,
} from '../../../src/log/recordings/running-lock.ts'

afterEach(forgetRunning)

/** Locks of all tabs. */
function locksOfTabs() {
  const held = new Set<string>()
  return {
    held,
    async request(name: string, work: () => Promise<unknown>) {
      held.add(name)
      await work()
      held.delete(name)
    },
    query: async () => ({ held: [...held].map((name) => ({ name })), pending: [] }),
  }
}

test('a recording is known to be written in every tab, until it ends', async () => {
  const locks = locksOfTabs()
  vi.stubGlobal('navigator', { locks })
  const free = await holdRunning('a')
  await holdRunning('b')
  locks.held.add('something else')
  expect([...(await runningElsewhere())].sort()).toEqual(['a', 'b'])
  // Seen from another tab.
  forgetRunning()
  expect([...(await runningElsewhere())].sort()).toEqual(['a', 'b'])
  free()
  await expect.poll(() => locks.held.has('recording a')).toBe(false)
  expect([...(await runningElsewhere())]).toEqual(['b'])
})

test('where locks are refused, or there are none, this tab knows its own', async () => {
  const refused = { request: () => Promise.reject(new Error('refused')), query: async () => ({}) }
  for (const navigator of [{ locks: refused }, {}]) {
    vi.stubGlobal('navigator', navigator)
    const free = await holdRunning('a')
    expect([...(await runningElsewhere())]).toEqual(['a'])
    free()
    expect([...(await runningElsewhere())]).toEqual([])
  }
})
