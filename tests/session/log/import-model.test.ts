import { describe, expect, test, vi } from 'vitest'
import type { ImportPreview } from '../../../src/log/schema/import-preview.ts'
import type { Log, Work } from '../../../src/log/schema/types.ts'
import { createImportModel } from '../../../src/session/log/import-model.ts'

const FILE = new File(['{}'], 'log.json')
const OTHER = new File(['{}'], 'other.zip')

/** A log that reads and merges when told to. */
function held() {
  const work: {
    of: string
    work: Work
    answer(value: unknown): void
    refuse(error: unknown): void
  }[] = []
  const ask = (of: string, given: Work = {}) =>
    new Promise<never>((resolve, reject) => {
      work.push({ of, work: given, answer: (value) => resolve(value as never), refuse: reject })
    })
  const discard = vi.fn(async () => undefined)
  const preview = {
    merge: (given: Work & { conflicts: string }) => ask(`merge ${given.conflicts}`, given),
    discard,
  } as unknown as ImportPreview
  const log = { readFile: (file: File, given: Work) => ask(file.name, given) } as unknown as Log
  return { model: createImportModel(Promise.resolve(log)), work, preview, discard }
}
const asked = ({ work }: ReturnType<typeof held>, count = 1) =>
  expect.poll(() => work.length).toBe(count)

async function seen() {
  const of = held()
  void of.model.read(FILE)
  await asked(of)
  of.work[0]!.answer(of.preview)
  await expect.poll(() => of.model.state.value.kind).toBe('seen')
  return of
}

describe('a file on its way into the log', () => {
  test('says how far it is, in reading as in merging', async () => {
    const of = held()
    void of.model.read(FILE)
    expect(of.model.state.value).toEqual({ kind: 'reading', name: 'log.json', done: 0, total: 0 })
    await asked(of)
    of.work[0]!.work.progress?.(1, 4)
    expect(of.model.state.value).toEqual({ kind: 'reading', name: 'log.json', done: 1, total: 4 })
    of.work[0]!.answer(of.preview)
    await expect
      .poll(() => of.model.state.value)
      .toEqual({ kind: 'seen', name: 'log.json', preview: of.preview })
    void of.model.merge('theirs')
    expect(of.model.state.value).toEqual({ kind: 'merging', name: 'log.json', done: 0, total: 0 })
    expect(of.work[1]!.of).toBe('merge theirs')
    of.work[1]!.work.progress?.(2, 4)
    expect(of.model.state.value).toMatchObject({ kind: 'merging', done: 2 })
    of.work[1]!.answer({ added: 3 })
    await expect
      .poll(() => of.model.state.value)
      .toEqual({ kind: 'brought', name: 'log.json', report: { added: 3 } })
    expect(of.discard).not.toHaveBeenCalled()
  })

  test('that is refused is told, until the next one is read', async () => {
    const of = held()
    void of.model.read(FILE)
    await asked(of)
    const refused = new Error('no log')
    of.work[0]!.refuse(refused)
    await expect.poll(() => of.model.failure.value).toBe(refused)
    expect(of.model.state.value).toEqual({ kind: 'idle' })
    void of.model.read(OTHER)
    expect(of.model.failure.value).toBeNull()
  })

  test('stopped while it is read comes to nothing, and what was set aside of it goes', async () => {
    const of = held()
    void of.model.read(FILE)
    await asked(of)
    of.model.stop()
    of.work[0]!.work.progress?.(3, 4)
    expect(of.model.state.value).toMatchObject({ done: 0 })
    of.work[0]!.answer(of.preview)
    await expect.poll(() => of.model.state.value.kind).toBe('idle')
    expect(of.discard).toHaveBeenCalledOnce()
    expect(of.model.failure.value).toBeNull()
  })

  test('gives way to another one, whichever is read first', async () => {
    const of = held()
    void of.model.read(FILE)
    await asked(of)
    void of.model.read(OTHER)
    await asked(of, 2)
    expect(of.work[0]!.work.signal?.aborted).toBe(true)
    of.work[0]!.refuse(new Error('late'))
    await new Promise((resolve) => setTimeout(resolve))
    expect(of.model.state.value).toMatchObject({ kind: 'reading', name: 'other.zip' })
    expect(of.model.failure.value).toBeNull()
  })

  test('seen and then left, or left for another one, keeps nothing of itself', async () => {
    const left = await seen()
    left.model.leave()
    expect(left.discard).toHaveBeenCalledOnce()
    expect(left.model.state.value).toEqual({ kind: 'idle' })
    left.model.leave()
    expect(left.discard).toHaveBeenCalledOnce()
    const again = await seen()
    void again.model.read(OTHER)
    expect(again.discard).toHaveBeenCalledOnce()
  })

  test('that cannot be merged is told, and what was set aside of it goes', async () => {
    const of = await seen()
    void of.model.merge('mine')
    const full = new Error('no room')
    of.work[1]!.refuse(full)
    await expect.poll(() => of.model.failure.value).toBe(full)
    expect(of.model.state.value).toEqual({ kind: 'idle' })
    expect(of.discard).toHaveBeenCalledOnce()
    // Nothing is seen any more: there is nothing to merge.
    await of.model.merge('mine')
    expect(of.work).toHaveLength(2)
  })
})
