import { beforeEach, describe, expect, test, vi } from 'vitest'
import type { ExportOptions } from '../../../src/log/schema/types.ts'
import { createExportModel, type Exportable } from '../../../src/session/log/export-model.ts'

beforeEach(() => void vi.stubGlobal('navigator', {}))

/** A clock nine hours before that of Greenwich: there it is the next day already. */
class Abroad extends Date {
  override getTimezoneOffset = () => 540
}
const NOW = () => new Abroad('2025-03-02T08:30:00Z')
const MARK = { made: 'mark' } as never

/** A log whose export goes on when told to. */
function held() {
  const asked: [string, ExportOptions][] = []
  const marks: string[] = []
  let go: () => void = () => undefined
  let broken: Error | null = null
  const log: Exportable = {
    async *export(format, options = {}) {
      asked.push([format, options])
      await new Promise<void>((resolve) => {
        go = resolve
      })
      options.signal?.throwIfAborted()
      if (broken) throw broken
      yield new Uint8Array([1, 2, 3])
    },
    markBackup: async () => {
      marks.push('marked')
      return MARK
    },
    backedUp: async (mark) => void marks.push(mark === MARK ? 'backed up' : 'another mark'),
  }
  return {
    log,
    asked,
    marks,
    async go(error: Error | null = null) {
      broken = error
      go()
    },
  }
}
const begun = (ids: readonly string[] | null = null) => {
  const of = held()
  return { ...of, model: createExportModel(Promise.resolve(of.log), ids, NOW) }
}
const asking = ({ asked }: ReturnType<typeof held>, count = 1) =>
  expect.poll(() => asked.length).toBe(count)

describe('readings on their way into a file', () => {
  test('say how far they are, and how many could not be read', async () => {
    const of = begun(['a', 'b'])
    const making = of.model.make('csv')
    expect(of.model.state.value).toEqual({ kind: 'making', done: 0, total: 2 })
    await asking(of)
    const [format, options] = of.asked[0]!
    expect([format, options.ids]).toEqual(['csv', ['a', 'b']])
    options.progress?.(1, 2)
    expect(of.model.state.value).toEqual({ kind: 'making', done: 1, total: 2 })
    options.onDamage?.({} as never)
    options.onDamage?.({} as never)
    await of.go()
    await making
    const made = of.model.state.value
    if (made.kind !== 'made') throw new Error(made.kind)
    expect(made.damaged).toBe(2)
    // The day by the clock of this device, however late it is.
    expect(made.file.name).toBe('glowbook-log-2025-03-01.csv')
    expect(made.file.type).toContain('csv')
    expect(made.file.size).toBe(3)
  })

  test('all of them are marked as backed up only once their file has left', async () => {
    vi.stubGlobal('navigator', { canShare: () => true, share: async () => undefined })
    const of = begun()
    const making = of.model.make('json')
    expect(of.model.state.value).toEqual({ kind: 'making', done: 0, total: 0 })
    await asking(of)
    expect(of.asked[0]![1]).not.toHaveProperty('ids')
    await of.go()
    await making
    expect(of.marks).toEqual(['marked'])
    await of.model.leave()
    expect(of.marks).toEqual(['marked', 'backed up'])
    expect(of.model.state.value).toMatchObject({
      kind: 'left',
      name: 'glowbook-log-2025-03-01.json',
    })
    // It has left: another tap does nothing.
    await of.model.leave()
    expect(of.marks).toHaveLength(2)
    of.model.reset()
    expect(of.model.state.value).toEqual({ kind: 'idle' })
  })

  test('a failure is told, and gone with the next try', async () => {
    const of = begun()
    const making = of.model.make('zip')
    await asking(of)
    const broken = new Error('disk gone')
    await of.go(broken)
    await making
    expect([of.model.failure.value, of.model.state.value]).toEqual([broken, { kind: 'idle' }])
    of.model.reset()
    expect(of.model.failure.value).toBeNull()
    void of.model.make('zip')
    await asking(of, 2)
    await of.go(broken)
    await expect.poll(() => of.model.failure.value).toBe(broken)
    void of.model.make('zip')
    expect(of.model.failure.value).toBeNull()
  })

  test('a second file takes the place of the first, which comes to nothing', async () => {
    const of = begun()
    const first = of.model.make('zip')
    await asking(of)
    const stopped = of.asked[0]![1]
    const second = of.model.make('csv')
    expect(stopped.signal?.aborted).toBe(true)
    stopped.progress?.(5, 9)
    expect(of.model.state.value).toEqual({ kind: 'making', done: 0, total: 0 })
    await of.go()
    await asking(of, 2)
    await of.go()
    await Promise.all([first, second])
    expect(of.model.state.value).toMatchObject({ kind: 'made' })
    expect(of.model.failure.value).toBeNull()
  })

  test('that cannot leave says why, and still waits there', async () => {
    const refused = new Error('no room')
    vi.stubGlobal('navigator', { canShare: () => true, share: () => Promise.reject(refused) })
    vi.stubGlobal('document', undefined)
    const of = begun()
    const making = of.model.make('zip')
    await asking(of)
    await of.go()
    await making
    await of.model.leave()
    expect(of.model.failure.value).not.toBeNull()
    expect(of.model.state.value.kind).toBe('made')
    expect(of.marks).toEqual(['marked'])
  })
})
