import { beforeEach, describe, expect, test, vi } from 'vitest'
import { answerJournal, keeperInWorker } from '../../../src/log/journal/calls.ts'
import type { Keeper } from '../../../src/log/journal/keeper.ts'
import { workersHere } from '../worker-here.ts'
import { keeperOver, memoryFiles } from './memory-files.ts'

const HEADER = { epoch: 'one', version: 3, atMs: 0 }

beforeEach(() => {
  vi.stubGlobal('navigator', { storage: { getDirectory: async () => ({}) } })
})

/** The journal behind the border of a worker. */
function journal(change: Partial<Keeper> = {}) {
  const files = memoryFiles()
  const names: string[] = []
  const here = workersHere(() =>
    answerJournal(async (name) => {
      names.push(name)
      return { ...keeperOver(files), ...change }
    }),
  )
  return { ...here, names, open: () => keeperInWorker('glowbook') }
}

describe('the journal behind its worker', () => {
  test('is the one of that name, and answers as the keeper does', async () => {
    const { names, open } = journal()
    const keeper = await open()
    expect(names).toEqual(['glowbook'])
    expect(await keeper.look()).toBeNull()
    const text = JSON.stringify([['put', 'readings', 'a']])
    await keeper.beginSnapshot(HEADER)
    await keeper.snapshotPart(1, text, [])
    await keeper.finishSnapshot(1, [])
    expect(await keeper.look()).toMatchObject({ epoch: 'one', turn: 1, whole: true })
    await keeper.close()
  })

  test('answers in the order of the questions, however long each takes', async () => {
    const begun: number[] = []
    const { open } = journal({
      async append(_, { turn }: never) {
        begun.push(turn)
        await new Promise((resolve) => setTimeout(resolve, turn === 1 ? 10 : 0))
        begun.push(-turn)
      },
    })
    const keeper = await open()
    const append = (turn: number) => keeper.append(HEADER, { turn } as never, [])
    await Promise.all([append(1), append(2)])
    expect(begun).toEqual([1, -1, 2, -2])
  })

  test('says why a call failed; the next is answered', async () => {
    const { open } = journal({
      append: async () => {
        throw new Error('no space: 3 of 9 bytes')
      },
    })
    const keeper = await open()
    await expect(keeper.append(HEADER, {} as never, [])).rejects.toThrow('no space: 3 of 9 bytes')
    expect(await keeper.look()).toBeNull()
  })

  test('that dies lets nobody wait, before or after', async () => {
    const { open, die } = journal({ look: () => new Promise(() => undefined) })
    const keeper = await open()
    const waiting = keeper.look()
    die('out of memory')
    await expect(waiting).rejects.toThrow('out of memory')
    await expect(keeper.replay('one', 0)).rejects.toThrow('out of memory')
  })

  test('that ends without a word lets nobody wait either', async () => {
    const { open, dieSilently } = journal({ look: () => new Promise(() => undefined) })
    const keeper = await open()
    const waiting = keeper.look()
    dieSilently()
    await expect(waiting).rejects.toThrow('ended')
    await expect(keeper.replay('one', 0)).rejects.toThrow('ended')
  })

  test('that is closed answers no more', async () => {
    const { open, seen } = journal()
    const keeper = await open()
    await keeper.close()
    expect(seen.ended()).toBe(1)
    await expect(keeper.look()).rejects.toThrow('closed')
  })

  test('is not there where the browser has no private files, or no workers', async () => {
    const { open } = journal()
    vi.stubGlobal('navigator', { storage: {} })
    await expect(open()).rejects.toThrow('no private file system')
    vi.stubGlobal('navigator', {})
    await expect(open()).rejects.toThrow('no private file system')
    vi.stubGlobal('navigator', { storage: { getDirectory: async () => ({}) } })
    vi.stubGlobal('Worker', undefined)
    await expect(open()).rejects.toThrow('no private file system')
  })
})
