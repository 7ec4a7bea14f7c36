import { afterEach, describe, expect, it, vi } from 'vitest'
import { textCheck } from '../../src/log/schema/text-check.ts'
import type { LogChange } from '../../src/log/schema/types.ts'
import { findRow } from '../../src/log/store/writing.ts'
import { breakRow } from './break-row.ts'
import { tamper } from './fixture-database.ts'
import { closeTestLogs, draft, failureOf, freshName, jpegBlob, openTestLog } from './opening.ts'

afterEach(() => {
  closeTestLogs()
  vi.unstubAllGlobals()
})

describe('a damaged record', () => {
  type Row = { id: string; json: string }

  /** Named by its field: the same digits may stand in the random id before it. */
  const atTemperature = ({ json }: Row, kelvin: string) =>
    json.replace('"temperatureK":1173', `"temperatureK":${kelvin}`)

  async function withDamage(change: (row: Row) => unknown) {
    const name = freshName()
    const log = await openTestLog({ name })
    const sound = await log.add(draft({ object: 'sound' }))
    const hurt = await log.add(draft({ object: 'hurt', inputs: { a: 1 } }))
    await tamper(name, 'readings', (store) => {
      const request = store.get(1)
      request.onsuccess = () => store.put(change(request.result))
    })
    return { log, sound, hurt }
  }

  it.each([
    ['a wrong type', (row) => ({ ...row, json: row.json.replace('"hurt"', '7') })],
    ['a missing field', (row) => ({ ...row, json: `{"id":"${row.id}"}` })],
    ['text cut short', (row) => ({ ...row, json: row.json.slice(0, 200) })],
    ['no text at all', ({ json: _, ...row }) => row],
    [
      'another id',
      (row) => {
        const other = row.id.replace(/.$/, (last) => (last === '0' ? '1' : '0'))
        return { ...row, json: row.json.replaceAll(row.id, other) }
      },
    ],
    ['a changed digit', (row) => ({ ...row, json: atTemperature(row, '1573') })],
    ['an infinite number', (row) => ({ ...row, json: atTemperature(row, '1e999') })],
    [
      'a temperature that an earlier version took, and its own check sum',
      (row) => {
        const json = atTemperature(row, '0.001')
        return { ...row, json, check: textCheck(json) }
      },
    ],
  ] as [string, (row: Row) => unknown][])(
    'with %s is told, with what is left of it, and costs no other',
    async (_title, change) => {
      const { log, sound, hurt } = await withDamage(change)
      const stored = await log.get(hurt.id)
      expect(stored).toMatchObject({ state: 'damaged', damage: { id: hurt.id } })
      if (stored?.state === 'damaged') {
        expect(stored.damage.where).not.toBe('')
        expect(JSON.parse(stored.damage.raw)).toMatchObject({ id: hurt.id })
      }
      expect(await log.get(sound.id)).toMatchObject({ state: 'sound' })
      expect((await log.check()).map((d) => d.id)).toEqual([hurt.id])
      expect(await failureOf(log.edit(hurt.id, { notes: 'x' }))).toMatchObject({ code: 'damaged' })
      expect(await log.count()).toBe(2)
      await log.remove([hurt.id])
      expect(await log.count()).toBe(1)
    },
  )

  it.each([
    ['no JSON', '[{"a":'],
    ['too few', '[1]'],
    ['changed by a digit', '[{"a":2},null]'],
    ['gone', undefined],
  ])('whose inputs are %s is told, and keeps what else is known of it', async (_title, text) => {
    const name = freshName()
    const log = await openTestLog({ name })
    const hurt = await log.add(draft({ object: 'hurt', inputs: { a: 1 } }))
    await tamper(name, 'inputs', (store) => {
      if (text === undefined) store.clear()
      else store.put(text, 0)
    })
    const stored = await log.get(hurt.id)
    expect(stored).toMatchObject({ state: 'damaged', damage: { where: /^inputs/ } })
    expect(stored?.state === 'damaged' && stored.damage.raw).toContain('"object": "hurt"')
    expect((await log.check()).map((d) => d.id)).toEqual([hurt.id])
    expect(await log.newest(1)).toMatchObject([{ object: 'hurt', temperatureK: 1173 }])
  })

  it('is left out of an export, and told', async () => {
    const { log, sound, hurt } = await withDamage(({ json: _, ...row }) => row)
    const told: string[] = []
    const chunks: string[] = []
    for await (const chunk of log.export('json', { onDamage: (d) => told.push(d.id) })) {
      chunks.push(new TextDecoder().decode(chunk))
    }
    expect(told).toEqual([hurt.id])
    expect((JSON.parse(chunks.join('')) as { readings: unknown[] }).readings).toMatchObject([
      { id: sound.id },
    ])
  })

  it('without an id is called by its number, and by nothing like it', async () => {
    const { log } = await withDamage(({ id: _, ...row }) => row)
    expect(await log.get('row 1')).toMatchObject({ state: 'damaged', damage: { id: 'row 1' } })
    expect(await log.get('arrow 1')).toBeUndefined()
    expect(await log.get('row 1st')).toBeUndefined()
  })

  it('without an id is found by a number of any length', async () => {
    const row = { seq: 120 } as Awaited<ReturnType<typeof findRow>>
    const readings = {
      get: async (seq: number) => (seq === 120 ? row : undefined),
      index: () => ({ get: async () => undefined }),
    }
    expect(await findRow(readings, 'row 120')).toBe(row)
    expect(await findRow(readings, 'row 12')).toBeUndefined()
    expect(await findRow(readings, 'row')).toBeUndefined()
  })

  it('that cannot even be read does not hide the others', async () => {
    const { log, sound, hurt } = await withDamage((row) => row)
    breakRow(1)
    expect((await log.newest(5)).map((s) => s.damaged)).toEqual([true, false])
    expect(await log.get(hurt.id)).toMatchObject({ state: 'damaged' })
    expect(await log.get(sound.id)).toMatchObject({ state: 'sound' })
    expect((await log.check()).map((d) => d.where)).toEqual([
      expect.stringContaining('cannot be read'),
    ])
    const told: string[] = []
    let text = ''
    for await (const chunk of log.export('csv', { onDamage: (d) => told.push(d.id) })) {
      text += new TextDecoder().decode(chunk)
    }
    expect(told).toHaveLength(1)
    expect(text).toContain(sound.id)
  })

  it('in the picture is told and costs the reading nothing', async () => {
    const name = freshName()
    const log = await openTestLog({ name })
    const reading = await log.add(draft(), { blob: jpegBlob(), width: 2, height: 2 })
    await tamper(name, 'pictures', (store) => {
      const request = store.get(reading.id)
      request.onsuccess = () => {
        const row = request.result as { bytes: Uint8Array }
        row.bytes[30] = row.bytes[30]! ^ 1
        store.put(row)
      }
    })
    expect(await log.check()).toMatchObject([{ id: reading.id, where: 'picture: damaged' }])
    expect(await log.get(reading.id)).toMatchObject({ state: 'sound' })
  })

  it('among the summaries is made again from the readings', async () => {
    const name = freshName()
    const log = await openTestLog({ name })
    const reading = await log.add(draft({ object: 'Anvil' }))
    await tamper(name, 'blocks', (store) => store.clear())
    const again = await openTestLog({ name })
    expect((await again.find()).count).toBe(0)
    expect(await again.check()).toEqual([])
    expect((await again.find({ object: 'anvil' })).ids()).toEqual([reading.id])
  })

  it.each([
    ['the text of a row', { lines: 'x' }],
    ['what is searched', { digests: 'x' }],
    ['a time', { takenAtMs: 0 }],
    ['a temperature', { temperatureK: 300 }],
    ['what kind it is', { flags: 1 }],
  ])('to %s, among the summaries, is set right, and other tabs are told', async (_, changed) => {
    const name = freshName()
    const log = await openTestLog({ name })
    for (const object of ['Anvil', 'Bolt']) await log.add(draft({ object }))
    const before = await log.newest(9)
    log.close()
    await tamper(name, 'blocks', (store) => {
      store.get(0).onsuccess = ({ target }) => {
        const block = (target as IDBRequest<Record<string, string | Float64Array>>).result
        for (const [part, value] of Object.entries(changed)) {
          const kept = block[part]!
          if (typeof kept === 'string') block[part] = kept.replace(/[a-z]/gi, String(value))
          else kept[1] = Number(value)
        }
        store.put(block)
      }
    })
    const again = await openTestLog({ name })
    const beside = await openTestLog({ name })
    const told: LogChange[] = []
    beside.subscribe((change) => told.push(change))
    expect((await again.find()).count).toBeGreaterThan(0)
    await again.check()
    expect(await again.newest(9)).toEqual(before)
    expect((await again.find({ object: 'bolt' })).count).toBe(1)
    await vi.waitFor(() => expect(told).toContainEqual({ kind: 'everything', elsewhere: true }))
    // Nothing is left to be set right.
    told.length = 0
    await again.check()
    await again.kit.add({ kind: 'camera', name: 'Bench camera', data: {} })
    await vi.waitFor(() => expect(told.length).toBeGreaterThan(0))
    expect(told).not.toContainEqual({ kind: 'everything', elsewhere: true })
  })

  it('among the counters does not make a new reading overwrite an old one', async () => {
    const name = freshName()
    const log = await openTestLog({ name })
    const old = await log.add(draft())
    await tamper(name, 'state', (store) => store.clear())
    const again = await openTestLog({ name })
    await again.add(draft())
    await again.check()
    expect(await again.count()).toBe(2)
    expect(await again.get(old.id)).toMatchObject({ state: 'sound' })
  })
})
