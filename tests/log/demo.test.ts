import { afterEach, describe, expect, it } from 'vitest'
import { closeTestLogs, draft, openTestLog } from './opening.ts'

afterEach(closeTestLogs)

describe('the made-up workshop', () => {
  it('is labelled throughout, comes once, and goes at once', async () => {
    const log = await openTestLog()
    const mine = await log.add(draft({ object: 'mine' }))
    const added = await log.addDemo()
    expect(added).toBeGreaterThan(20)
    expect(await log.addDemo()).toBe(0)
    const all = (await log.find()).summaries()
    const demo = all.filter((s) => s.id !== mine.id)
    expect(demo).toHaveLength(added)
    for (const s of demo) expect(s).toMatchObject({ demo: true, simulated: true })
    expect(await log.check()).toEqual([])
    expect((await log.status()).unsavedElsewhere).toBe(1)
    expect(await log.removeDemo()).toBe(added)
    expect((await log.find()).ids()).toEqual([mine.id])
    expect(await log.removed()).toEqual([])
    expect(await log.addDemo()).toBe(added)
  })

  it('comes back whole when some of it was deleted', async () => {
    const log = await openTestLog()
    const added = await log.addDemo()
    await log.remove((await log.find()).ids(0, 3))
    expect(await log.addDemo()).toBe(3)
    expect(await log.count()).toBe(added)
  })

  it('has a firing that begins too cold to be read, with a bound instead of a figure', async () => {
    const log = await openTestLog()
    await log.addDemo()
    const firing = (await log.find({ object: 'Kiln shelf, middle' })).summaries()
    expect(firing).toHaveLength(8)
    const kinds = firing.map(({ kind }) => kind)
    expect(kinds.filter((kind) => kind === 'upper bound')).toHaveLength(1)
    expect(kinds.filter((kind) => kind === 'temperature')).toHaveLength(7)
  })

  it('has a coil whose temperature grows with the fourth root of its power', async () => {
    const log = await openTestLog()
    await log.addDemo()
    const coil = (await log.find({ object: 'Kiln coil, lower left' })).summaries()
    expect(coil).toHaveLength(10)
    // Stefan-Boltzmann; the scatter that was added is at most 6 K.
    for (const { watts, temperatureK } of coil) {
      const expected = 1290 * (watts! / 1500) ** 0.25
      expect(Math.abs(temperatureK! - expected)).toBeLessThanOrEqual(6)
    }
  })
})
