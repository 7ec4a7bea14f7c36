import 'fake-indexeddb/auto'
import { describe, expect, test } from 'vitest'
import { type Change, textOfChanges } from '../../../src/log/journal/changes.ts'
import { changesOfText, leftOf } from '../../../src/log/journal/read-changes.ts'
import { recorded } from '../../../src/log/journal/recorded.ts'

describe('changes as text', () => {
  test('come back with their bytes, of whatever length and wherever these lay', () => {
    const long = Uint8Array.from({ length: 9000 }, (_, i) => i % 251)
    const changes: Change[] = [
      ['pictures', 'p', { id: 'p', bytes: long, facts: { width: 1, note: null } }],
      ['recordingChunks', ['r', 0], { id: 'r', number: 0, bytes: long.subarray(3, 9) }],
      ['readings', 1, { seq: 1, json: '{"a":"x"}' }],
      ['recordingChunks', ['r', 0], ['r', 9], 'range'],
      ['kit', 'k'],
      ['settings'],
    ]
    const [first, , ...rest] = changes
    const second = ['recordingChunks', ['r', 0], { id: 'r', number: 0, bytes: long.slice(3, 9) }]
    expect(changesOfText(textOfChanges(changes)).changes).toEqual([first, second, ...rest])
    const buffer: Change = ['kit', 'k', { id: 'k', data: long.slice(0, 5).buffer }]
    expect(changesOfText(textOfChanges([buffer])).changes).toEqual([
      ['kit', 'k', { id: 'k', data: long.slice(0, 5) }],
    ])
    // RFC 4648, 10: "foobar" in base 64.
    const foobar = new TextEncoder().encode('foobar')
    expect(textOfChanges([['kit', 'k', foobar]])).toBe('[["kit","k",{"$bytes":"Zm9vYmFy"}]]')
  })

  test('that only speak of bytes are texts', () => {
    const changes: Change[] = [['settings', 'note', 'all "$bytes" of it']]
    expect(changesOfText(textOfChanges(changes)).changes).toEqual(changes)
    expect(changesOfText('[["settings","x",{"$bytes":7}]]').changes).toEqual([
      ['settings', 'x', { $bytes: 7 }],
    ])
  })
})

describe('changes that no database takes', () => {
  test.each([
    ['a row under another key than its own', ['readings', 2, { seq: 1 }]],
    ['a row without its key', ['recordingChunks', ['r', 0], { id: 'r' }]],
    ['no row where one stands alone', ['kit', 'k', 'text']],
    ['a store that is not kept', ['blocks', 1, { block: 1 }]],
    ['a key that is none', ['settings', null, 'F']],
    ['a range that runs backwards', ['readings', 9, 1, 'range']],
    ['a range that is none', ['readings', 1, 9, 'from']],
    ['no change', 7],
  ])('are left out, and it is said: %s', (_, bad) => {
    const good = ['readings', 1, { seq: 1 }]
    expect(changesOfText(JSON.stringify([bad, good]))).toEqual({ changes: [good], whole: false })
    const one = ['readings', 4, 4, 'range']
    expect(changesOfText(JSON.stringify([good, one]))).toEqual({
      changes: [good, one],
      whole: true,
    })
  })
})

describe('what is left of changes', () => {
  const part = (id: string, number: number, value = 'v'): Change => [
    'recordingChunks',
    [id, number],
    value,
  ]

  test('is the last of each row', () => {
    expect(
      leftOf([
        ['settings', 'unit', 'K'],
        ['kit', 'unit', 'other store'],
        ['settings', 'scale', 1],
        ['settings', 'unit', 'F'],
        ['settings', 'scale'],
      ]),
    ).toEqual([
      ['settings', 'unit', 'F'],
      ['settings', 'scale'],
      ['kit', 'unit', 'other store'],
    ])
  })

  test('is nothing of what lies before a store was emptied', () => {
    expect(
      leftOf([
        ['kit', 'a', 1],
        ['readings', 1, 1],
        ['kit'],
        ['kit', 'b', 2],
        ['kit'],
        ['kit', 'c', 3],
      ]),
    ).toEqual([['kit'], ['kit', 'c', 3], ['readings', 1, 1]])
  })

  test('is nothing within a range that was deleted, both ends included, but what came after', () => {
    const range: Change = ['recordingChunks', ['b', 0], ['b', 5], 'range']
    expect(
      leftOf([
        part('a', 9),
        part('b', 0),
        part('b', 3),
        part('b', 5),
        part('b', 6),
        part('c', 0),
        range,
        part('b', 0, 'joined'),
      ]),
    ).toEqual([range, part('a', 9), part('b', 6), part('c', 0), part('b', 0, 'joined')])
    const other: Change = ['recordingChunks', ['c', 0], ['c', 5], 'range']
    expect(leftOf([part('c', 0), range, other])).toEqual([range, other])
  })
})

describe('a transaction that is recorded', () => {
  function made() {
    const done: unknown[][] = []
    const store = (name: string, keyPath: string | string[] | null) => ({
      keyPath,
      name,
      put: async (...given: unknown[]) => void done.push([name, 'put', ...given]),
      add: async (...given: unknown[]) => void done.push([name, 'add', ...given]),
      delete: async (...given: unknown[]) => void done.push([name, 'delete', ...given]),
      clear: async () => void done.push([name, 'clear']),
      async count() {
        return this.name.length
      },
    })
    const stores: Record<string, ReturnType<typeof store>> = {
      kit: store('kit', 'id'),
      pictures: store('pictures', 'id'),
      settings: store('settings', null),
      recordingChunks: store('recordingChunks', ['id', 'number']),
      blocks: store('blocks', 'block'),
    }
    const told: unknown[][] = []
    const tx = recorded(
      { objectStore: (name: string) => stores[name]!, mode: 'readwrite' },
      (...given) => told.push(given.filter((one) => one !== undefined)),
    )
    return { tx, told, done }
  }

  test('does what is asked, and tells of it with the key of each row', async () => {
    const { tx, told, done } = made()
    await tx.objectStore('kit').put({ id: 'k' })
    await tx.objectStore('kit').add({ id: 'l' })
    await tx.objectStore('settings').put('F', 'unit')
    await tx.objectStore('recordingChunks').put({ id: 'r', number: 2 })
    await tx.objectStore('kit').delete('k')
    await tx.objectStore('recordingChunks').delete(IDBKeyRange.bound(['r', 0], ['r', 9]))
    await tx.objectStore('settings').clear()
    expect(told).toEqual([
      [['kit', 'k', { id: 'k' }]],
      [['kit', 'l', { id: 'l' }]],
      [['settings', 'unit', 'F']],
      [['recordingChunks', ['r', 2], { id: 'r', number: 2 }]],
      [['kit', 'k']],
      [['recordingChunks', ['r', 0], ['r', 9], 'range']],
      [['settings']],
    ])
    expect(done.map(([name, verb]) => `${name} ${verb}`)).toEqual([
      'kit put',
      'kit add',
      'settings put',
      'recordingChunks put',
      'kit delete',
      'recordingChunks delete',
      'settings clear',
    ])
    expect(done[2]!.slice(2)).toEqual(['F', 'unit'])
  })

  test('leaves alone what can be made again, and what only reads', async () => {
    const { tx, told, done } = made()
    await tx.objectStore('blocks').put({ block: 1 })
    await tx.objectStore('blocks').clear()
    expect(done).toHaveLength(2)
    expect(await tx.objectStore('kit').count()).toBe(3)
    expect(tx.mode).toBe('readwrite')
    expect(told).toEqual([])
  })

  test('gives a picture of more than 100 kB beside its row, which is written whole', async () => {
    const { tx, told, done } = made()
    const row = (length: number) => ({
      id: 'p',
      facts: { width: 1 },
      bytes: new Uint8Array(length),
    })
    const [small, large] = [row(100_000), row(100_001)]
    await tx.objectStore('pictures').put(small)
    await tx.objectStore('pictures').put(large)
    const [ofSmall, ofLarge] = told as [[unknown[]], [unknown[], { id: string; bytes: Uint8Array }]]
    expect(ofSmall).toHaveLength(1)
    expect(ofSmall[0][2]).toBe(small)
    expect(ofLarge[0]).toEqual(['pictures', 'p', { id: 'p', facts: { width: 1 } }])
    expect(ofLarge[1].id).toBe('p')
    expect(ofLarge[1].bytes).toBe(large.bytes)
    expect(done[1]![2]).toBe(large)
  })
})
