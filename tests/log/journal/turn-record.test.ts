import { describe, expect, test, vi } from 'vitest'
import { journalInto } from '../../../src/log/journal/journal.ts'
import type { Keeper } from '../../../src/log/journal/keeper.ts'

const SETTING = { version: 3, atMs: 1000 }
const FIRST = { epoch: 'a', turn: 1 }

function journal(append: Keeper['append'] = async () => undefined) {
  const sent = vi.fn<Keeper['append']>(append)
  const onFailed = vi.fn()
  const kept = journalInto({ append: sent } as unknown as Keeper, SETTING, onFailed)
  const kinds = () => sent.mock.calls.map(([, { kind }]) => kind)
  return { journal: kept, sent, kinds, onFailed }
}

const store = { keyPath: 'id', put: async () => undefined, get: async () => undefined }
const tx = {
  objectStore: (_: string) => store as { put(row: object): Promise<unknown> } & typeof store,
}
const row = (i: number, more = {}) => ({ id: `${i}`, ...more })

describe('the changes of one transaction', () => {
  test('are sent with its end, under its turn', async () => {
    const { journal: into, sent, onFailed } = journal()
    expect(into.copy()).toBe('kept')
    const record = into.record(FIRST)
    expect(record.changed).toBe(false)
    const bytes = new Uint8Array(100_001)
    const over = record.over(tx)
    await over.objectStore('kit').put(row(1))
    await over.objectStore('pictures').put(row(2, { bytes }))
    expect(record.changed).toBe(true)
    expect(sent).not.toHaveBeenCalled()
    expect(await record.end()).toBeUndefined()
    expect(sent).toHaveBeenCalledOnce()
    const [header, frame, pictures] = sent.mock.calls[0]!
    expect(header).toEqual({ epoch: 'a', ...SETTING })
    expect(frame).toEqual({
      kind: 'end',
      turn: 1,
      text: '[["kit","1",{"id":"1"}],["pictures","2",{"id":"2"}]]',
    })
    expect(pictures.map(({ id }) => id)).toEqual(['2'])
    expect(pictures[0]!.bytes).toBe(bytes)
    expect(onFailed).not.toHaveBeenCalled()
  })

  test('are none where it only reads', async () => {
    const { journal: into } = journal()
    const record = into.record(FIRST)
    await record.over(tx).objectStore('kit').get()
    await record.over(tx).objectStore('blocks').put(row(1))
    expect(record.changed).toBe(false)
  })

  test('go ahead in parts of 400 where there are many, and each once', async () => {
    const { journal: into, sent, kinds } = journal()
    const record = into.record(FIRST)
    const kit = record.over(tx).objectStore('kit')
    for (let i = 0; i < 399; i++) await kit.put(row(i))
    expect(kinds()).toEqual([])
    await kit.put(row(399))
    expect(kinds()).toEqual(['part'])
    await kit.put(row(400))
    await record.end()
    expect(kinds()).toEqual(['part', 'end'])
    const ids = sent.mock.calls.flatMap(([, { text }]) =>
      (JSON.parse(text) as [string, string][]).map(([, id]) => id),
    )
    expect(ids).toEqual(Array.from({ length: 401 }, (_, i) => `${i}`))
  })

  test('are taken back where something of them was sent, and only then', async () => {
    const { journal: into, sent, kinds } = journal()
    const unsent = into.record(FIRST)
    await unsent.over(tx).objectStore('kit').put(row(1))
    unsent.abort()
    expect(kinds()).toEqual([])
    const record = into.record({ epoch: 'a', turn: 2 })
    await record.over(tx).objectStore('kit').put(row(1))
    await record.end()
    record.abort()
    expect(kinds()).toEqual(['end', 'abort'])
    expect(sent.mock.calls[1]![1]).toEqual({ kind: 'abort', turn: 2, text: '' })
  })
})

describe('a second copy', () => {
  test('that fails is told once, with the reason, and nothing more is written into it', async () => {
    const reason = new Error('no space')
    const { journal: into, sent, onFailed } = journal(() => Promise.reject(reason))
    const record = into.record(FIRST)
    const other = into.record({ epoch: 'a', turn: 2 })
    // Both on their way at once.
    const ends = [record.end(), other.end()]
    expect(await Promise.all(ends)).toEqual([reason, reason])
    expect(onFailed).toHaveBeenCalledOnce()
    expect(into.copy()).toBe('failed')
    sent.mockClear()
    const later = into.record({ epoch: 'a', turn: 3 })
    expect(await later.end()).toBeUndefined()
    later.abort()
    expect(sent).not.toHaveBeenCalled()
  })

  test('that the browser has no place for is none, and no failure', async () => {
    const onFailed = vi.fn()
    const into = journalInto(null, SETTING, onFailed)
    const record = into.record(FIRST)
    await record.over(tx).objectStore('kit').put(row(1))
    expect(await record.end()).toBeUndefined()
    expect([into.copy(), onFailed.mock.calls.length]).toEqual(['none', 0])
  })
})
