import { describe, expect, test } from 'vitest'
import { LogError } from '../../../src/log/schema/errors.ts'
import type { Log, LogChange } from '../../../src/log/schema/types.ts'
import { createListModel } from '../../../src/session/log/list-model.ts'

/** A log that says what it was asked for, and changes when told to. */
function watched(count = 1) {
  const asked: string[] = []
  const listeners = new Set<(change: LogChange) => void>()
  const log = {
    newest: async (most: number) => {
      asked.push(`newest ${most}`)
      return [{ id: 'a' }]
    },
    count: async () => count,
    find: async (filter: object) => {
      asked.push(`find ${JSON.stringify(filter)}`)
      return { count }
    },
    vocabulary: async () => {
      asked.push('vocabulary')
      return { objects: [], asked: asked.length }
    },
    recordings: {
      list: async () => {
        asked.push('recordings')
        return { items: [{}, {}] }
      },
    },
    subscribe(listener: (change: LogChange) => void) {
      listeners.add(listener)
      return () => listeners.delete(listener)
    },
  } as unknown as Log
  const model = createListModel(Promise.resolve(log))
  const tell = (kind: string, more: object = {}) => {
    for (const listener of listeners) listener({ kind, ...more } as LogChange)
  }
  const since = (from: number) => asked.slice(from)
  return { model, asked, tell, since, listeners }
}
const settled = () => new Promise((resolve) => setTimeout(resolve))

describe('the list of the log', () => {
  test('asks for the newest first, and for what changes only when that has changed', async () => {
    const { model, asked, tell, since } = watched()
    expect([model.newest.value, model.total.value, model.view.value]).toEqual([null, null, null])
    expect([model.place.value, model.recordings.value]).toEqual([null, null])
    await model.ready
    expect(asked).toEqual(['newest 30', 'find {}'])
    expect([model.newest.value, model.total.value]).toEqual([[{ id: 'a' }], 1])
    tell('kit')
    tell('settings')
    expect(since(2)).toEqual([])
    tell('readings', { ids: ['a'] })
    tell('everything')
    await settled()
    expect(since(2)).toEqual(['find {}', 'find {}'])
    // There are readings: nobody has to know whether there are recordings.
    tell('recordings')
    expect(since(4)).toEqual([])
    model.dispose()
  })

  test('has the words that were used once they are asked for, until readings change', async () => {
    const { model, asked, tell } = watched()
    await model.ready
    expect(model.vocabulary.value).toBeNull()
    model.readVocabulary()
    await expect.poll(() => model.vocabulary.value).not.toBeNull()
    const first = model.vocabulary.value
    model.readVocabulary()
    tell('kit')
    await settled()
    expect(model.vocabulary.value).toBe(first)
    expect(asked.filter((one) => one === 'vocabulary')).toHaveLength(1)
    tell('readings', { ids: [] })
    expect(model.vocabulary.value).toBeNull()
    model.dispose()
  })

  test('counts recordings only where there is no reading at all, and nothing was searched', async () => {
    const { model, tell, since, asked } = watched(0)
    await model.ready
    await expect.poll(() => model.recordings.value).toBe(2)
    model.find({ text: 'bar' })
    await settled()
    const before = asked.length
    tell('recordings')
    expect(since(before)).toEqual([])
    expect(await model.count({ object: 'lid' })).toBe(0)
    expect(model.filter.value).toEqual({ text: 'bar' })
    model.dispose()
  })

  test('says that the log was closed, and nothing once it is put away', async () => {
    const { model, tell, listeners } = watched()
    await model.ready
    tell('kit')
    expect(model.failure.value).toBeNull()
    tell('closed', { code: 'newer version' })
    expect(model.failure.value).toBeInstanceOf(LogError)
    expect(model.failure.value).toMatchObject({ failure: { code: 'newer version' } })
    model.dispose()
    expect(listeners.size).toBe(0)
    const early = watched()
    early.model.dispose()
    await early.model.ready
    expect([early.listeners.size, early.asked]).toEqual([0, []])
  })
})
