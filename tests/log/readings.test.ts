import { afterEach, describe, expect, it } from 'vitest'
import type { Log, LogChange, Reading } from '../../src/log/schema/types.ts'
import { newUuid } from '../../src/log/schema/uuid.ts'
import {
  closeTestLogs,
  draft,
  failureOf,
  freshName,
  jpegBlob,
  openTestLog,
  temperatureResult,
} from './opening.ts'

afterEach(closeTestLogs)

async function sound(log: Log, id: string): Promise<Reading> {
  const stored = await log.get(id)
  if (stored?.state !== 'sound') throw new Error(`${id} is ${stored?.state}`)
  return stored.reading
}

describe('saving', () => {
  it('gives back what was saved, also from another connection', async () => {
    const name = freshName()
    const log = await openTestLog({ name })
    const saved = await log.add(
      draft({
        inputs: { glow: { mean: [1, 0.1, 0.01] }, references: [] },
        details: { findings: [{ code: 'clipped', share: 0.001 }] },
        supply: { volts: 230, amperes: null, watts: 1200 },
        tags: ['annealing'],
        notes: 'second firing',
      }),
    )
    const other = await openTestLog({ name })
    expect(await sound(other, saved.id)).toEqual(saved)
    expect(await other.count()).toBe(1)
  })

  it('dates a reading by the wall clock of its zone', async () => {
    const log = await openTestLog({ now: () => new Date('2025-07-01T10:00:00Z') })
    const saved = await log.add(draft())
    expect(saved.takenAt).toEqual({ iso: '2025-07-01T12:00:00.000+02:00', zone: 'Europe/Vienna' })
    expect(saved.savedAt).toBe('2025-07-01T10:00:00.000Z')
  })

  it('labels practice as simulated', async () => {
    const log = await openTestLog()
    expect((await log.add(draft({ method: 'practice' }))).simulated).toBe(true)
    expect((await log.add(draft())).simulated).toBe(false)
  })

  it('keeps the picture without its metadata, and no place in the inputs', async () => {
    const log = await openTestLog()
    const saved = await log.add(
      draft({ inputs: { exif: { ISO: 100, GPSLatitude: 48.2, latitude: 48.2 } } }),
      { blob: jpegBlob(), width: 8, height: 8 },
    )
    const kept = await log.picture(saved.id)
    const text = await kept!.text()
    expect(text).toContain('ICC_PROFILE')
    expect(text).not.toContain('GPS')
    expect(text).not.toContain('place')
    expect(text).not.toContain('city')
    expect(text).not.toContain('trailing')
    expect(saved.picture).toMatchObject({ type: 'image/jpeg', width: 8, bytes: kept!.size })
    expect(saved.inputs).toEqual({ exif: { ISO: 100 } })
  })

  it('refuses what is no reading and keeps nothing of it', async () => {
    const log = await openTestLog()
    let deep: unknown[] = []
    for (let i = 0; i < 50; i++) deep = [deep]
    const cases = [
      draft({ notes: 'x'.repeat(20_001) }),
      draft({ result: { ...temperatureResult(1173), temperatureK: Number.NaN } as never }),
      draft({ inputs: { date: new Date() } as never }),
      draft({ inputs: deep as never }),
      draft({ inputs: JSON.parse('{"__proto__": {"polluted": true}}') }),
      draft({ takenAt: { iso: '2025-02-31', zone: '' } }),
      { ...draft(), unknown: 1 } as never,
    ]
    for (const wrong of cases) {
      expect((await failureOf(log.add(wrong))).code).toBe('not a reading')
    }
    const picture = { blob: new Blob(['no jpeg'], { type: 'image/jpeg' }), width: 1, height: 1 }
    expect((await failureOf(log.add(draft(), picture))).code).toBe('not a picture')
    expect(await log.count()).toBe(0)
    expect(({} as { polluted?: boolean }).polluted).toBeUndefined()
  })

  it('lists the newest by the time taken, not by the time saved', async () => {
    const log = await openTestLog()
    const at = (iso: string) => draft({ takenAt: { iso, zone: '' }, object: iso })
    await log.add(at('2025-02-02T08:00:00Z'))
    await log.add(at('2025-02-03T08:00:00Z'))
    await log.add(at('2025-02-01T08:00:00Z'))
    const newest = await log.newest(2)
    expect(newest.map((s) => s.object)).toEqual(['2025-02-03T08:00:00Z', '2025-02-02T08:00:00Z'])
    const all = await log.find()
    expect(all.summaries().map((s) => s.object.slice(8, 10))).toEqual(['03', '02', '01'])
  })
})

describe('editing', () => {
  it('keeps the former values, and only of what has changed', async () => {
    const log = await openTestLog()
    const { id } = await log.add(draft({ notes: 'first' }))
    await log.edit(id, { notes: 'second', object: 'Kiln shelf' })
    await log.edit(id, { tags: ['a'] })
    const now = await sound(log, id)
    expect(now.notes).toBe('second')
    expect(now.history.map((h) => h.values)).toEqual([{ notes: 'first' }, { tags: [] }])
    expect((await log.find({ text: 'second' })).count).toBe(1)
    expect((await log.find({ text: 'first' })).count).toBe(0)
  })

  it('writes nothing when nothing changes', async () => {
    const log = await openTestLog()
    const { id } = await log.add(draft({ notes: 'same' }))
    const { history } = await log.edit(id, { notes: 'same' })
    expect(history).toEqual([])
  })

  it('lets a temperature entered by hand be corrected, but not a measured one', async () => {
    const log = await openTestLog()
    const byHand = await log.add(draft({ method: 'by hand' }))
    const corrected = await log.edit(byHand.id, { result: temperatureResult(1200) })
    expect(corrected.history[0]?.values.result).toEqual(byHand.result)
    const measured = await log.add(draft())
    const refused = await failureOf(log.edit(measured.id, { result: temperatureResult(1200) }))
    expect(refused.code).toBe('measured, not editable')
  })

  it('adds a recomputation under the same reading and lists its result', async () => {
    const log = await openTestLog()
    const { id } = await log.add(draft({ inputs: { a: 1 } }))
    await log.recompute(id, {
      result: temperatureResult(1190, 5),
      reason: 'newer method',
      inputs: { a: 2 },
    })
    const now = await sound(log, id)
    expect(now.result).toMatchObject({ temperatureK: 1173 })
    expect(now.inputs).toEqual({ a: 1 })
    expect(now.recomputations[0]).toMatchObject({ inputs: { a: 2 }, reason: 'newer method' })
    expect((await log.newest(1))[0]).toMatchObject({ temperatureK: 1190, recomputed: true })
  })

  it('says so when the reading is not there', async () => {
    const log = await openTestLog()
    expect(await failureOf(log.edit('00000000-0000-4000-8000-000000000000', {}))).toMatchObject({
      code: 'not found',
    })
  })
})

describe('removing', () => {
  it('can be undone, in full and after a reload', async () => {
    const name = freshName()
    const log = await openTestLog({ name })
    const kept = await log.add(draft({ object: 'kept' }))
    const gone = await log.add(draft({ object: 'gone', inputs: { a: 1 } }), {
      blob: jpegBlob(),
      width: 4,
      height: 4,
    })
    const undo = await log.remove([gone.id])
    expect((await log.find()).ids()).toEqual([kept.id])
    expect(await log.count()).toBe(1)
    expect((await log.removed()).map((s) => s.object)).toEqual(['gone'])
    const again = await openTestLog({ name })
    await again.restore(undo)
    expect(await sound(again, gone.id)).toEqual(gone)
    expect(await again.picture(gone.id)).toBeDefined()
    expect(await again.count()).toBe(2)
    expect((await again.find({ object: 'GONE' })).count).toBe(1)
  })

  it('is final a day later', async () => {
    const name = freshName()
    const log = await openTestLog({ name, now: () => new Date('2025-03-01T00:00:00Z') })
    const gone = await log.add(draft(), { blob: jpegBlob(), width: 4, height: 4 })
    await log.remove([gone.id])
    const later = await openTestLog({ name, now: () => new Date('2025-03-02T00:00:01Z') })
    await expect.poll(async () => (await later.removed()).length).toBe(0)
    expect(await later.picture(gone.id)).toBeUndefined()
    expect(await later.get(gone.id)).toBeUndefined()
  })

  it('empties everything, and the kit only on request', async () => {
    const log = await openTestLog()
    await log.add(draft())
    await log.kit.add({ kind: 'camera', name: 'Shop phone', data: null })
    const told: string[] = []
    log.subscribe(({ kind }) => told.push(kind))
    await log.empty()
    expect(told).toEqual(['everything'])
    expect([await log.count(), (await log.find()).count, (await log.newest(5)).length]).toEqual([
      0, 0, 0,
    ])
    expect((await log.kit.list()).items).toHaveLength(1)
    await log.empty({ kit: true })
    expect(told).toEqual(['everything', 'everything', 'kit'])
    expect((await log.kit.list()).items).toHaveLength(0)
    await log.add(draft())
    expect((await log.find()).count).toBe(1)
  })
})

describe('heads', () => {
  it('are the sound readings asked for, without inputs', async () => {
    const log = await openTestLog()
    const a = await log.add(draft({ inputs: { a: 1 } }))
    const b = await log.add(draft({ object: 'b' }))
    const missing = '00000000-0000-4000-8000-000000000000'
    expect(await log.heads([b.id, missing, a.id])).toEqual([b, { ...a, inputs: null }])
  })
})

describe('two tabs', () => {
  it('see each other’s readings', async () => {
    const name = freshName()
    const here = await openTestLog({ name })
    const there = await openTestLog({ name })
    await there.find()
    const heard: LogChange[] = []
    there.subscribe((change) => heard.push(change))
    const saved = await here.add(draft({ object: 'Anvil' }))
    await expect.poll(() => heard.length).toBe(1)
    expect(heard[0]).toEqual({ kind: 'readings', ids: [saved.id], elsewhere: true })
    expect((await there.find({ object: 'anvil' })).ids()).toEqual([saved.id])
    await here.remove([saved.id])
    await expect.poll(async () => (await there.find()).count).toBe(0)
  })

  it('may write at the same moment without losing anything', async () => {
    const name = freshName()
    const tabs = await Promise.all([1, 2, 3].map(() => openTestLog({ name })))
    const saved = await Promise.all(
      Array.from({ length: 60 }, (_, i) => tabs[i % 3]!.add(draft({ object: `piece ${i}` }))),
    )
    const fresh = await openTestLog({ name })
    expect(await fresh.count()).toBe(60)
    expect(new Set((await fresh.find()).ids())).toEqual(new Set(saved.map((r) => r.id)))
    expect(await fresh.check()).toEqual([])
    for (const tab of tabs) await expect.poll(async () => (await tab.find()).count).toBe(60)
  })
})

describe('kit', () => {
  it('takes again what was deleted, but not what stands', async () => {
    const log = await openTestLog()
    const draft = { id: newUuid(), kind: 'tone curve', name: 'Curve', data: null } as const
    await log.kit.add(draft)
    expect(await failureOf(log.kit.add(draft))).toMatchObject({ code: 'already there' })
    await log.kit.remove([draft.id])
    await log.kit.add({ ...draft, name: 'Once more' })
    expect((await log.kit.list()).items.map(({ name }) => name)).toEqual(['Once more'])
  })

  it('lists the newest first, those of one moment by their ids, in whatever order they came', async () => {
    const log = await openTestLog()
    const date = { iso: '2026-03-01T10:00:00.000Z', zone: '' }
    const ids = ['b', 'd', 'a', 'c'].map((end) => `00000000-0000-4000-8000-00000000000${end}`)
    for (const id of ids) await log.kit.add({ id, kind: 'lamp', name: id, date, data: null })
    const newer = { iso: '2026-03-02T10:00:00.000Z', zone: '' }
    await log.kit.add({ kind: 'lamp', name: 'newer', date: newer, data: null })
    const names = (await log.kit.list()).items.map(({ name }) => name)
    expect(names).toEqual(['newer', ...[...ids].sort()])
  })

  it('keeps items, finds them by kind, and brings them back', async () => {
    const log = await openTestLog()
    const lamp = await log.kit.add({ kind: 'lamp', name: 'Bench lamp', data: { volts: 12 } })
    await log.kit.add({ kind: 'camera', name: 'Shop phone', data: null })
    expect((await log.kit.list('lamp')).items).toEqual([lamp])
    expect((await log.kit.change(lamp.id, { name: 'Old lamp' })).name).toBe('Old lamp')
    const undo = await log.kit.remove([lamp.id])
    expect(await log.kit.get(lamp.id)).toBeUndefined()
    await log.kit.restore(undo)
    expect((await log.kit.get(lamp.id))?.name).toBe('Old lamp')
  })
})

describe('settings', () => {
  it('are there again after a reload', async () => {
    const name = freshName()
    const log = await openTestLog({ name })
    await log.settings.set('unit', 'K')
    expect(await (await openTestLog({ name })).settings.get('unit')).toBe('K')
    expect(await log.settings.get('never set')).toBeUndefined()
  })
})
