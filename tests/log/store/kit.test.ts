import { afterEach, describe, expect, test } from 'vitest'
import type { Log } from '../../../src/log/schema/types.ts'
import { tamper } from '../fixture-database.ts'
import { closeTestLogs, failureOf, freshName, openTestLog } from '../opening.ts'

afterEach(closeTestLogs)

const ID = '00000000-0000-4000-8000-00000000000a'
const LAMP = { id: ID, kind: 'lamp', name: 'Lamp', data: { volts: 12 } } as const
const unsaved = async (log: Log) => (await log.status()).unsavedElsewhere

describe('a thing of the kit', () => {
  test('is kept with all that nobody has said of it', async () => {
    const log = await openTestLog({ now: () => new Date('2025-07-01T10:00:00Z') })
    const { id, ...item } = await log.kit.add({ kind: 'lamp', name: 'Lamp', data: null })
    expect(item).toEqual({
      version: 1,
      kind: 'lamp',
      name: 'Lamp',
      addedAt: '2025-07-01T10:00:00.000Z',
      demo: false,
      simulated: false,
      date: { iso: '2025-07-01T12:00:00.000+02:00', zone: 'Europe/Vienna' },
      notes: '',
      cameraId: null,
      balanceState: null,
      temperatureK: null,
      standardUncertaintyK: null,
      data: null,
    })
    expect(await log.kit.get(id)).toEqual({ id, ...item })
    expect(await log.kit.get(ID)).toBeUndefined()
  })

  test('is changed in what is said, and nothing else of it; its change is told and counts', async () => {
    const log = await openTestLog()
    const before = await log.kit.add(LAMP)
    await log.backedUp(await log.markBackup())
    const heard: unknown[] = []
    log.subscribe((change) => heard.push(change))
    const after = await log.kit.change(ID, { notes: 'second hand' })
    expect(after).toEqual({ ...before, notes: 'second hand' })
    expect(await log.kit.get(ID)).toEqual(after)
    expect(heard).toEqual([{ kind: 'kit', elsewhere: false }])
    expect(await unsaved(log)).toBe(1)
  })

  test('cannot be changed where it is not, is deleted, or into what is none', async () => {
    const log = await openTestLog()
    expect(await failureOf(log.kit.change(ID, {}))).toEqual({ code: 'not found', id: ID })
    await log.kit.add(LAMP)
    for (const [change, where] of [
      [{ name: 7 }, 'name'],
      [{ temperatureK: -1 }, 'temperatureK'],
    ] as const)
      expect(await failureOf(log.kit.change(ID, change as never))).toMatchObject({
        code: 'not a kit item',
        where: expect.stringContaining(where),
      })
    await log.kit.remove([ID])
    expect(await failureOf(log.kit.change(ID, {}))).toEqual({ code: 'not found', id: ID })
    const wrong = failureOf(log.kit.add({ ...LAMP, kind: 'kettle' as 'lamp' }))
    expect(await wrong).toMatchObject({
      code: 'not a kit item',
      where: expect.stringContaining('kind'),
    })
    expect(await failureOf(log.kit.add({ ...LAMP, id: 'lamp' }))).toMatchObject({
      code: 'not a kit item',
    })
  })

  test('is deleted once, and needs no backup then; what comes back does', async () => {
    const log = await openTestLog()
    await log.kit.add(LAMP)
    const undo = await log.kit.remove([ID, 'no such', ID])
    expect(undo).toEqual({ ids: [ID] })
    expect(await log.kit.remove([ID])).toEqual({ ids: [] })
    expect((await log.kit.list()).items).toEqual([])
    expect(await unsaved(log)).toBe(0)
    await log.kit.restore({ ids: ['no such', ...undo.ids] })
    expect(await unsaved(log)).toBe(1)
    await log.backedUp(await log.markBackup())
    // What stands already is not changed by it.
    await log.kit.restore(undo)
    expect(await unsaved(log)).toBe(0)
  })

  test('counts one by one: each change after a backup is one that it lacks', async () => {
    const log = await openTestLog()
    await log.kit.add(LAMP)
    const mark = await log.markBackup()
    await log.kit.add({ ...LAMP, id: ID.replace(/a$/, 'b') })
    await log.kit.add({ ...LAMP, id: ID.replace(/a$/, 'c') })
    await log.backedUp(mark)
    expect(await unsaved(log)).toBe(2)
  })

  test('that is damaged is told with its place and raw text, and costs no other', async () => {
    const name = freshName()
    const log = await openTestLog({ name })
    const sound = await log.kit.add({ kind: 'camera', name: 'Camera', data: null })
    const lamp = await log.kit.add(LAMP)
    await tamper(name, 'kit', (store) => {
      store.put({ id: ID, item: { ...lamp, name: 7 }, change: 2 })
    })
    const { items, damaged } = await log.kit.list('camera')
    expect(items).toEqual([sound])
    expect(damaged).toMatchObject([{ id: ID, where: expect.stringMatching(/^name: /) }])
    expect(JSON.parse(damaged[0]!.raw)).toMatchObject({ name: 7, kind: 'lamp' })
    for (const work of [log.kit.get(ID), log.kit.change(ID, { name: 'Lamp' })])
      expect(await failureOf(work)).toMatchObject({ code: 'damaged', id: ID })
    // It can be deleted.
    await log.kit.remove([ID])
    expect((await log.kit.list()).damaged).toEqual([])
  })
})
