import { afterEach, describe, expect, test, vi } from 'vitest'
import type { Log } from '../../../src/log/schema/types.ts'
import { breakRow } from '../break-row.ts'
import { closeTestLogs, draft, openTestLog, textOf } from '../opening.ts'

afterEach(() => {
  closeTestLogs()
  vi.unstubAllGlobals()
  vi.restoreAllMocks()
})

async function logOf(count: number) {
  const log = await openTestLog()
  const ids: string[] = []
  for (let i = 0; i < count; i++) {
    ids.push((await log.add(draft({ object: `${i}`, inputs: { i } }))).id)
  }
  return { log, ids }
}

async function exported(log: Log, ids?: readonly string[]) {
  const told: string[] = []
  const text = await textOf(
    log.export('json', { onDamage: ({ id }) => told.push(id), ...(ids && { ids }) }),
  )
  const { readings } = JSON.parse(text) as { readings: { object: string; inputs: unknown }[] }
  return { told, readings, objects: readings.map(({ object }) => Number(object)) }
}
const upTo = (count: number, ...without: number[]) =>
  Array.from({ length: count }, (_, i) => i).filter((i) => !without.includes(i))

describe('a row that cannot be read', () => {
  test('costs no other of an export in several batches of fifty, wherever it lies in one', async () => {
    const { log, ids } = await logOf(52)
    expect(await exported(log)).toMatchObject({ told: [], objects: upTo(52) })
    for (const seq of [3, 49, 50, 51]) {
      breakRow(seq)
      expect(await exported(log)).toMatchObject({ told: [`row ${seq}`], objects: upTo(52, seq) })
      vi.unstubAllGlobals()
    }
    breakRow(3)
    const seen: number[] = []
    await textOf(log.export('json', { progress: (done) => seen.push(done) }))
    expect(seen).toEqual([0, 50, 52])
    vi.unstubAllGlobals()
    // In batches of those that are named, it is called by its name.
    breakRow(50)
    const named = [ids[50]!, ids[3]!, 'no such', ids[50]!, ids[1]!]
    expect(await exported(log, named)).toMatchObject({ told: [ids[50], ids[50]], objects: [3, 1] })
    const { readings } = await exported(log, [ids[2]!])
    expect(readings).toMatchObject([{ inputs: { i: 2 } }])
  })

  test('is left out of heads, and a removed one too', async () => {
    const { log, ids } = await logOf(4)
    await log.remove([ids[1]!])
    breakRow(2)
    const heads = await log.heads([...ids, 'no such'])
    expect(heads.map(({ object, inputs }) => [object, inputs])).toEqual([
      ['0', null],
      ['3', null],
    ])
    expect(await log.get(ids[1]!)).toBeUndefined()
    expect(await log.get(ids[2]!)).toMatchObject({
      state: 'damaged',
      damage: { id: ids[2], where: expect.stringMatching(/^cannot be read: /), raw: '' },
    })
  })

  test('among the newest is one of them, in its place', async () => {
    const { log } = await logOf(5)
    expect(await log.newest(0)).toEqual([])
    expect((await log.newest(9)).map(({ object }) => object)).toEqual(['4', '3', '2', '1', '0'])
    breakRow(3)
    expect(await log.newest(3)).toMatchObject([
      { object: '4', damaged: false },
      { id: 'row 3', damaged: true },
      { object: '2', damaged: false },
    ])
  })

  test('in its inputs alone is told, with what is known of the reading beside them', async () => {
    const { log, ids } = await logOf(3)
    const { get } = IDBObjectStore.prototype
    vi.spyOn(IDBObjectStore.prototype, 'get').mockImplementation(function (
      this: IDBObjectStore,
      ...args
    ) {
      if (this.name === 'inputs' && args[0] === 1) throw new DOMException('lost', 'DataError')
      return get.apply(this, args)
    })
    const stored = await log.get(ids[1]!)
    expect(stored).toMatchObject({ state: 'damaged', damage: { where: 'inputs: missing' } })
    expect(stored?.state === 'damaged' && stored.damage.raw).toContain('"object": "1"')
    expect(await exported(log)).toMatchObject({ told: [ids[1]], objects: [0, 2] })
    expect((await log.check()).map(({ where }) => where)).toEqual(['inputs: missing'])
  })
})

test('a check tells how far it is, and can be stopped', async () => {
  const { log } = await logOf(130)
  const seen: [number, number][] = []
  await log.check({ progress: (done, total) => seen.push([done, total]) })
  expect(seen).toEqual([
    [0, 130],
    [128, 130],
    [130, 130],
  ])
  const stop = AbortSignal.abort(new Error('enough'))
  await expect(log.check({ signal: stop })).rejects.toThrow('enough')
})
