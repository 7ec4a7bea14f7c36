import { afterEach, describe, expect, test, vi } from 'vitest'
import type { Log } from '../../../src/log/schema/types.ts'
import { type FireWatch, startFireWatch } from '../../../src/session/safety/fire-watch.ts'
import { isTicked } from '../../../src/session/safety/job.ts'
import { jobRecord } from '../../../src/session/safety/job-record.ts'
import { createSafetyModel } from '../../../src/session/safety/safety-model.ts'
import { closeTestLogs, draft, openTestLog } from '../../log/opening.ts'

const ends: (() => void)[] = []
afterEach(() => {
  for (const end of ends.splice(0)) end()
  vi.useRealTimers()
  closeTestLogs()
})

const NOW = new Date('2026-05-04T10:00:00.000Z')
const AT = NOW.toISOString()

/** The model; what is stored comes a moment later. */
async function modelOf(log: Log) {
  const model = createSafetyModel(Promise.resolve(log), () => NOW)
  ends.push(model.dispose)
  return model
}
const stored = (log: Log, name: string) => log.settings.get(`safety.${name}`)

describe('an open job', () => {
  test('is stored with what is ticked, and is there again in the next session', async () => {
    const log = await openTestLog()
    const model = await modelOf(log)
    model.startJob('forge')
    model.tick('ticked', 'eyes')
    await expect.poll(() => model.job.value?.ticked).toEqual([{ id: 'eyes', at: AT }])
    expect(model.job.value).toMatchObject({ kind: 'forge', startedAt: AT, withReadings: true })
    await expect.poll(() => stored(log, 'job')).toMatchObject({ ticked: [{ id: 'eyes' }] })
    const again = await modelOf(log)
    await expect.poll(() => again.job.value).toEqual(model.job.value)
  })

  test('goes on where another one is begun', async () => {
    const model = await modelOf(await openTestLog())
    model.startJob('forge')
    model.startJob('kiln')
    await expect.poll(() => model.job.value?.kind).toBe('forge')
  })

  test('has ticks that come off again, in each of its two lists', async () => {
    const model = await modelOf(await openTestLog())
    model.startJob('kiln')
    model.tick('ticked', 'a')
    model.tick('closed', 'a')
    model.tick('ticked', 'b')
    model.tick('ticked', 'a')
    await expect.poll(() => model.job.value?.ticked.map(({ id }) => id)).toEqual(['b'])
    const job = model.job.value!
    expect(isTicked(job, 'closed', 'a')).toBe(true)
    expect(isTicked(job, 'ticked', 'a')).toBe(false)
    model.linkReadings(false)
    expect(model.job.value?.withReadings).toBe(false)
  })

  test('without one nothing is ticked', async () => {
    const log = await openTestLog()
    const model = await modelOf(log)
    model.tick('ticked', 'a')
    model.linkReadings(true)
    await expect.poll(() => stored(log, 'job')).toBeNull()
    expect(model.job.value).toBeNull()
  })

  test('is written into the log, and then laid aside', async () => {
    const log = await openTestLog()
    const model = await modelOf(log)
    model.startJob('quenching')
    await expect.poll(() => model.job.value).not.toBeNull()
    await model.finish(jobRecord('job', 'bar', 'all ticked', undefined), 'job')
    await expect.poll(() => model.job.value).toBeNull()
    const [written] = await log.newest(1)
    expect(written).toMatchObject({ method: 'hot work', object: 'bar' })
    const [head] = await log.heads([written!.id])
    expect(head?.result).toMatchObject({ kind: 'none', reason: 'job' })
    expect(head).toMatchObject({ notes: 'all ticked', tags: ['hot work'] })
  })

  test('stays open where the log refuses it', async () => {
    const model = await modelOf(await openTestLog())
    model.startJob('forge')
    await expect.poll(() => model.job.value).not.toBeNull()
    const bad = { ...jobRecord('job', 'bar', '', undefined), method: 'no such' } as never
    await expect(model.finish(bad, 'job')).rejects.toThrow()
    expect(model.job.value).not.toBeNull()
  })
})

describe('a fire watch', () => {
  const watch = startFireWatch(NOW, 60) as FireWatch

  test('counts down by the clock once a second while it is there, and no longer', async () => {
    vi.useFakeTimers({ toFake: ['setInterval', 'clearInterval'] })
    let seconds = 0
    const log = await openTestLog()
    const clock = () => new Date(NOW.getTime() + 1000 * seconds)
    const model = createSafetyModel(Promise.resolve(log), clock)
    ends.push(model.dispose)
    const pass = (some: number) => {
      seconds += some
      vi.advanceTimersByTime(1000 * some)
    }
    pass(5)
    // Nothing is open: nothing has to be drawn anew.
    expect(model.now.value).toEqual(NOW)
    expect(model.secondsLeft.value).toBe(0)
    model.setWatch(watch)
    await expect.poll(() => model.secondsLeft.value).toBe(3595)
    pass(1)
    expect(model.secondsLeft.value).toBe(3594)
    model.dispose()
    pass(10)
    expect(model.secondsLeft.value).toBe(3594)
  })

  test('is there again in the next session, and laid aside once it is written', async () => {
    const log = await openTestLog()
    const model = await modelOf(log)
    model.setWatch(watch)
    await expect.poll(() => stored(log, 'watch')).toEqual(watch)
    const again = await modelOf(log)
    await expect.poll(() => again.watch.value).toEqual(watch)
    const inputs = { minutes: 60 }
    await model.finish(jobRecord('fire watch', 'shop', 'nothing seen', inputs), 'watch')
    await expect.poll(() => stored(log, 'watch')).toBeNull()
    const [written] = await log.newest(1)
    const found = await log.get(written!.id)
    expect(found?.state === 'sound' && found.reading.inputs).toEqual(inputs)
    // One whose end is no moment counts as none.
    await log.settings.set('safety.watch', { ...watch, endsAt: 'soon' })
    await expect.poll(() => again.watch.value).toBeNull()
  })
})

describe('beside it', () => {
  test('nothing of another tab comes into a model that was put away', async () => {
    const log = await openTestLog()
    const [one, two] = [await modelOf(log), await modelOf(log)]
    one.startJob('lamp')
    await expect.poll(() => two.job.value?.kind).toBe('lamp')
    two.dispose()
    one.linkReadings(false)
    await expect.poll(() => stored(log, 'job')).toMatchObject({ withReadings: false })
    expect(two.job.value?.withReadings).toBe(true)
  })

  test('own checks and the emergency address are kept', async () => {
    const log = await openTestLog()
    const model = await modelOf(log)
    expect(model.emergency.value).toEqual({ number: '', address: '' })
    model.addCheck('forge', 'Tongs fit', 'own 1')
    model.addCheck('kiln', 'Vent open', 'own 2')
    model.removeCheck('own 1')
    model.setEmergency({ number: '112', address: 'Made-up street 1' })
    await expect
      .poll(() => model.ownChecks.value)
      .toEqual([{ kind: 'kiln', text: 'Vent open', id: 'own 2' }])
    const again = await modelOf(log)
    await expect
      .poll(() => again.emergency.value)
      .toEqual({
        number: '112',
        address: 'Made-up street 1',
      })
    expect(again.ownChecks.value).toEqual(model.ownChecks.value)
  })

  test('what is stored and damaged counts as nothing, and the rest stays', async () => {
    const log = await openTestLog()
    await log.settings.set('safety.job', { kind: 'no such work' })
    await log.settings.set('safety.emergency', { number: '112', address: 'here' })
    const model = await modelOf(log)
    await expect.poll(() => model.emergency.value.number).toBe('112')
    expect(model.job.value).toBeNull()
    expect(model.failure.value).toBeNull()
  })

  test('another tab’s change comes in', async () => {
    const log = await openTestLog()
    const [one, two] = [await modelOf(log), await modelOf(log)]
    one.startJob('lamp')
    await expect.poll(() => two.job.value?.kind).toBe('lamp')
  })

  test('a setting that cannot be stored is said, and holds in memory', async () => {
    const refused = new Error('refused')
    const log = {
      settings: {
        get: async () => undefined,
        set: async () => {
          throw refused
        },
      },
      subscribe: () => () => undefined,
    } as unknown as Log
    const model = await modelOf(log)
    model.startJob('forge')
    await expect.poll(() => model.failure.value).toBe(refused)
    expect(model.job.value?.kind).toBe('forge')
  })

  test('readings since a moment are those of metal, newest first', async () => {
    const log = await openTestLog()
    const at = (iso: string) => ({ takenAt: { iso, zone: '' } })
    await log.add(draft(at('2025-03-01T08:00:00.000Z')))
    const one = await log.add(draft(at('2025-03-01T09:00:00.000Z')))
    const two = await log.add(draft(at('2025-03-01T09:30:00.000Z')))
    await log.add({
      ...jobRecord('fire watch', 'shop', '', undefined),
      ...at('2025-03-01T09:40:00.000Z'),
    })
    const model = await modelOf(log)
    expect(await model.readingsSince('2025-03-01T09:00:00.000Z')).toEqual([two.id, one.id])
  })
})
