import { afterEach, describe, expect, it } from 'vitest'
import type { ImportPreview } from '../../src/log/schema/import-preview.ts'
import type { Log } from '../../src/log/schema/types.ts'
import { fileOf, filledLog, none } from './importing.ts'
import { bytesOf, closeTestLogs, contentOf, temperatureResult } from './opening.ts'

afterEach(closeTestLogs)

describe('kit that differs here and in the file', () => {
  async function conflict() {
    const { log } = await filledLog()
    const file = new Blob([await bytesOf(log.export('json'))])
    const lamp = (await log.kit.list()).items[0]!
    await log.kit.change(lamp.id, { data: { volts: 6 } })
    const data = async () => (await log.kit.get(lamp.id))?.data
    return { log, lamp, data, preview: await log.readFile(file) }
  }

  it('stays as it is here when the person says so', async () => {
    const { data, preview } = await conflict()
    expect(preview.kit).toEqual({ ...none, conflicting: 1 })
    expect(await preview.merge({ conflicts: 'mine' })).toMatchObject({ changed: 0, kept: 3 })
    expect(await data()).toEqual({ volts: 6 })
  })

  it('becomes the file’s when the person says so', async () => {
    const { data, preview } = await conflict()
    expect(await preview.merge({ conflicts: 'theirs' })).toMatchObject({ changed: 1, kept: 2 })
    expect(await data()).toEqual({ volts: 12 })
  })

  it('comes back where it was deleted here', async () => {
    const { log, lamp, data, preview } = await conflict()
    await log.kit.remove([lamp.id])
    expect(await preview.merge({ conflicts: 'mine' })).toMatchObject({ added: 1, kept: 2 })
    expect(await data()).toEqual({ volts: 12 })
  })
})

describe('readings that differ here and in the file', () => {
  async function conflict(): Promise<{ log: Log; id: string; preview: ImportPreview }> {
    const { log, reading } = await filledLog()
    const file = new Blob([await bytesOf(log.export('json'))])
    await log.edit(reading.id, { notes: 'third firing', tags: ['mine'] })
    return { log, id: reading.id, preview: await log.readFile(file) }
  }

  it('are shown before anything is decided', async () => {
    const { preview } = await conflict()
    expect(preview.readings).toEqual({ ...none, same: 1, conflicting: 1 })
    expect(preview.examples).toMatchObject([
      { here: { notes: 'third firing' }, inFile: { notes: 'second firing' } },
    ])
  })

  it('stay as they are here when the person says so', async () => {
    const { log, preview } = await conflict()
    const before = await contentOf(log)
    await preview.merge({ conflicts: 'mine' })
    expect(await contentOf(log)).toBe(before)
  })

  it('take the file’s values and keep those from here in the history', async () => {
    const { log, id, preview } = await conflict()
    expect(await preview.merge({ conflicts: 'theirs' })).toMatchObject({ changed: 1, kept: 2 })
    expect(await log.get(id)).toMatchObject({
      reading: {
        notes: 'second firing',
        tags: [],
        history: [
          { values: { notes: '' } },
          { values: { notes: 'second firing', tags: [] } },
          { values: { notes: 'third firing', tags: ['mine'] } },
        ],
        recomputations: [{ reason: 'newer method' }],
      },
    })
  })

  it('are never mixed when they are different measurements under one id', async () => {
    const { log, reading } = await filledLog()
    const stored = await log.get(reading.id)
    if (stored?.state !== 'sound') throw new Error('damaged')
    const before = await contentOf(log)
    const file = fileOf([{ ...stored.reading, result: temperatureResult(2000) }])
    const preview = await log.readFile(file)
    expect(preview.readings).toEqual({ ...none, foreign: 1 })
    await preview.merge({ conflicts: 'theirs' })
    expect(await contentOf(log)).toBe(before)
  })

  it('come back when they were deleted here', async () => {
    const { log, reading } = await filledLog()
    const file = new Blob([await bytesOf(log.export('json'))])
    const before = await contentOf(log)
    await log.remove([reading.id])
    const preview = await log.readFile(file)
    expect(preview.readings).toEqual({ ...none, new: 1, same: 1 })
    await preview.merge({ conflicts: 'mine' })
    expect(await contentOf(log)).toBe(before)
    expect(await log.removed()).toEqual([])
  })
})
