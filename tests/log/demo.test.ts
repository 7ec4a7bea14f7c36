import { afterEach, describe, expect, it } from 'vitest'
import { currentResult } from '../../src/log/schema/reading-schema.ts'
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

  it('lies in the three weeks before now, each piece’s readings in the order of its work', async () => {
    const now = new Date('2025-03-22T10:00:00.500Z')
    const log = await openTestLog({ now: () => now })
    await log.addDemo()
    const all = (await log.find()).summaries()
    const days = all.map(({ takenAtMs }) => (now.getTime() - takenAtMs) / 86_400e3)
    expect(Math.min(...days)).toBeGreaterThan(0.9)
    expect(Math.max(...days)).toBeLessThan(21.001)
    expect(new Set(days).size).toBe(all.length)
    // Whole seconds, as a camera's clock tells them, on the clock of the zone.
    for (const { takenAt, zone } of all) {
      expect(takenAt).toMatch(/:\d\d\.000\+01:00$/)
      expect(zone).toBe('Europe/Vienna')
    }
    const of = async (object: string) => (await log.find({ object })).summaries().reverse()
    const watts = (await of('Kiln coil, lower left')).map((one) => one.watts)
    expect(watts).toEqual([1500, 1500, 1250, 1250, 1000, 1000, 750, 750, 500, 500])
    const volts = (await of('Bench lamp')).map((one) => one.volts)
    expect(volts).toEqual([230, 200, 170, 140, 110])
    const firing = (await of('Kiln shelf, middle')).map((one) => one.temperatureK ?? 0)
    expect(firing).toEqual(firing.toSorted((a, b) => a - b))
    expect(firing.at(-1)! - firing[0]!).toBeGreaterThan(350)
  })

  it('has powers, volts and colours that go together as physics has it', async () => {
    const log = await openTestLog()
    await log.addDemo()
    const ids = (await log.find()).ids()
    const readings = await log.heads(ids)
    for (const reading of readings) {
      const { supply, object, chromaticity, swatch } = reading
      const result = currentResult(reading)
      if (result.kind !== 'temperature') {
        expect([chromaticity, swatch]).toEqual([null, null])
        continue
      }
      // A coil and a heater of fixed resistance: power as the square of the voltage.
      if (object === 'Kiln coil, lower left')
        expect(supply!.volts! ** 2 / supply!.watts!).toBeCloseTo(230 ** 2 / 1500, 0)
      // Lamps: colour temperature as volts to the 0.42, power to the 1.6 (common practice).
      if (object === 'Bench lamp') {
        const share = supply!.volts! / 230
        expect(Math.abs(result.temperatureK - 2700 * share ** 0.42)).toBeLessThanOrEqual(12)
        expect(supply!.watts).toBe(Math.round(60 * share ** 1.6))
      }
      expect(chromaticity).toMatchObject({ cctK: result.temperatureK, duv: 0 })
      const { x, y, u, v } = chromaticity!
      // CIE 15, equation 8.4.
      expect(u).toBeCloseTo((4 * x) / (-2 * x + 12 * y + 3), 9)
      expect(v).toBeCloseTo((9 * y) / (-2 * x + 12 * y + 3), 9)
      // The brightest channel is full; hot metal is redder than green, and greener than blue.
      const [red, green, blue] = swatch!
      expect(red).toBeCloseTo(1, 9)
      expect([green <= red, blue <= green, blue >= 0]).toEqual([true, true, true])
    }
  })

  it('has budgets that add up, in which photos of one camera err together', async () => {
    const log = await openTestLog()
    await log.addDemo()
    for (const reading of await log.heads((await log.find()).ids())) {
      const { method } = reading
      const result = currentResult(reading)
      if (result.kind !== 'temperature') continue
      const u = result.standardUncertaintyK
      const sum = result.budget.reduce((all, { contributionK }) => all + contributionK ** 2, 0)
      expect(Math.sqrt(sum)).toBeCloseTo(u, 9)
      const shared = result.budget.filter(({ sharedBy }) => sharedBy !== null)
      expect(shared).toHaveLength(method === 'photo' || method === 'sweep' ? 1 : 0)
      for (const { contributionK } of shared) expect(contributionK).toBeGreaterThan(u / 2)
    }
  })

  it('shows one piece four ways, of which only the photo is wrong, and notes that say why', async () => {
    const log = await openTestLog()
    await log.addDemo()
    const four = (await log.find({ tag: 'four ways' })).summaries()
    const of = (method: string) => four.find((one) => one.method === method)!
    expect(four.map(({ method }) => method).sort()).toEqual([
      'by eye',
      'photo',
      'spectrum',
      'supply',
    ])
    const apart = (a: string, b: string) =>
      Math.abs(of(a).temperatureK! - of(b).temperatureK!) /
      Math.hypot(of(a).standardUncertaintyK!, of(b).standardUncertaintyK!)
    for (const other of ['by eye', 'spectrum', 'supply'])
      expect(apart('photo', other)).toBeGreaterThan(2)
    expect(apart('by eye', 'supply')).toBeLessThan(2)
    expect(apart('spectrum', 'supply')).toBeLessThan(2)
    for (const { notes, watts, volts } of four)
      expect([notes !== '', watts, volts]).toEqual([true, 800, 230])
    const forge = await log.heads((await log.find({ object: 'Forge bar' })).ids())
    expect(forge).toHaveLength(4)
    for (const { notes, tags, place, cover } of forge) {
      expect(notes).not.toBe('')
      expect([tags, place, cover]).toEqual([['hardening'], 'Made-up workshop', 'none'])
    }
  })

  it('leaves nothing of a backup to be made, and no figure where it was too cold', async () => {
    const log = await openTestLog()
    await log.addDemo()
    expect((await log.status()).unsavedElsewhere).toBe(0)
    const [cold] = (await log.heads((await log.find({ tag: 'firing' })).ids())).slice(-1)
    expect(cold).toMatchObject({
      result: { kind: 'upper bound', temperatureK: 890 },
      supply: null,
      series: 'Test firing',
    })
    expect(cold!.notes).toMatch(/Hardly to be seen/)
    const last = (await log.find({ tag: 'firing' })).at(0)
    expect(last.notes).toMatch(/Cones bent/)
  })
})
