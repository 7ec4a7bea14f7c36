import { expect, test, vi } from 'vitest'
import { laterRecordings } from '../../../src/log/recordings/later.ts'
import type { Recordings } from '../../../src/log/recordings/types.ts'

const NAMES = ['begin', 'add', 'put', 'list', 'get', 'change', 'remove', 'restore'] as const

test('the code of recordings comes with the first question, once, and is asked as it was called', async () => {
  const inner = Object.fromEntries(NAMES.map((name) => [name, vi.fn(async () => name)]))
  const load = vi.fn(async () => inner as unknown as Recordings)
  const later = laterRecordings(load) as unknown as Record<string, (...of: unknown[]) => unknown>
  expect(load).not.toHaveBeenCalled()
  for (const name of NAMES) {
    expect(await later[name]!(1, 2, 3)).toBe(name)
    const taken = inner[name]!.mock.calls[0] as unknown[]
    expect(taken).toEqual([1, 2, 3].slice(0, taken.length))
  }
  expect(load).toHaveBeenCalledTimes(1)
})

test('code that does not come is asked for again by the next question', async () => {
  const list = async () => ({ items: [], damaged: [], running: 0 })
  const load = vi
    .fn<() => Promise<Recordings>>()
    .mockRejectedValueOnce(new Error('no network'))
    .mockResolvedValue({ list } as unknown as Recordings)
  const later = laterRecordings(load)
  await expect(later.list()).rejects.toThrow('no network')
  expect((await later.list()).items).toEqual([])
})
