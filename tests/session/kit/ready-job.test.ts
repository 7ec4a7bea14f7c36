import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest'
import type { BalanceState } from '../../../src/estimate/types.ts'
import type { Log } from '../../../src/log/schema/types.ts'
import { createKitModel } from '../../../src/session/kit/kit-model.ts'
import { createReadyJob } from '../../../src/session/kit/ready-job.ts'
import { STEPS_OF_WAY, wayOf } from '../../../src/session/kit/ready-way.ts'
import { sortKit } from '../../../src/session/kit/sort-kit.ts'
import { statedLock, storeStatedLock } from '../../../src/session/kit/stated-lock.ts'
import type { PhotoFacts } from '../../../src/sources/files/photo-facts.ts'
import { closeTestLogs, openTestLog } from '../../log/opening.ts'
import { memoryCaches } from '../memory-caches.ts'

beforeEach(() => {
  vi.stubGlobal('navigator', {})
  vi.stubGlobal('caches', memoryCaches())
})
afterEach(closeTestLogs)

const NOW = new Date('2026-05-04T10:00:00.000Z')
const LATER = '2026-05-04T10:00:00.000Z'
const LOCKED: BalanceState = { kind: 'daylight', colourTemperatureK: null }
const FACTS = {
  make: 'Made-up',
  model: 'phone',
  lens: 'wide',
  software: '1.0',
  exposureProgram: 2,
} as unknown as PhotoFacts
const DEVICE = 'Made-up · phone'

async function begun(log: Log) {
  const kit = createKitModel(Promise.resolve(log))
  await expect.poll(() => kit.state.value).toBe('read')
  const job = createReadyJob(kit, () => NOW)
  const end = () => {
    job.dispose()
    kit.dispose()
  }
  return { kit, job, end }
}
const cameras = async (log: Log) =>
  sortKit((await log.kit.list()).items).cameras.map(({ data }) => data)

describe('what is said of a lock before any photo', () => {
  test('is kept, and becomes that of the camera which the first photo names', async () => {
    const log = await openTestLog()
    const { job, end } = await begun(log)
    expect(job.device.value).toBe('')
    expect(job.lock()).toBeNull()
    await job.stateLock(log, LOCKED)
    expect(job.way.value).toBe('locked')
    expect(job.lock()).toMatchObject({ kind: 'locked', state: LOCKED, since: LATER })
    expect(await statedLock()).toEqual({ kind: 'locked', state: LOCKED })
    expect(await cameras(log)).toEqual([])
    await job.seen(log, FACTS)
    expect(job.device.value).toBe(DEVICE)
    expect(await cameras(log)).toMatchObject([
      {
        device: DEVICE,
        usedAt: LATER,
        lock: {
          kind: 'locked',
          state: LOCKED,
          facts: { exposureProgram: 2, software: '1.0', lens: 'wide' },
        },
      },
    ])
    expect(await statedLock()).toBeNull()
    end()
  })

  test('that it cannot be locked leads to other steps, and is kept as well', async () => {
    const log = await openTestLog()
    const { job, end } = await begun(log)
    await job.cannotLock(log, 'card in picture')
    expect(job.way.value).toBe('card in picture')
    expect(job.pendingLock.value).toBeNull()
    await job.seen(log, FACTS)
    expect(await cameras(log)).toMatchObject([
      { lock: { kind: 'cannot be locked', way: 'card in picture' }, usedAt: LATER },
    ])
    end()
  })

  test('comes back after a reload; the step counts as done', async () => {
    await storeStatedLock({ kind: 'locked', state: LOCKED })
    const log = await openTestLog()
    const { job, end } = await begun(log)
    await expect.poll(() => job.pendingLock.value).toEqual(LOCKED)
    expect(job.pieces.value.lock).toMatchObject({ step: 'lock', due: false })
    end()
    await storeStatedLock({ kind: 'cannot be locked', way: 'raw' })
    const again = await begun(log)
    await expect.poll(() => again.job.way.value).toBe('raw')
    again.end()
  })

  test('is not taken up where it is damaged', async () => {
    for (const damaged of [
      { kind: 'locked' },
      { kind: 'cannot be locked', way: 'by magic' },
      { kind: 'cannot be locked' },
      {},
    ]) {
      await storeStatedLock(damaged as never)
      expect(await statedLock()).toBeNull()
    }
  })

  test('what was said last counts', async () => {
    const log = await openTestLog()
    const { job, end } = await begun(log)
    await job.cannotLock(log, 'raw')
    await job.stateLock(log, LOCKED)
    expect(job.way.value).toBe('locked')
    await job.cannotLock(log, 'raw')
    expect(job.way.value).toBe('raw')
    expect(job.lock()).toBeNull()
    end()
  })
})

describe('a camera that is known', () => {
  async function known() {
    const log = await openTestLog()
    const first = await begun(log)
    await first.job.seen(log, FACTS)
    first.end()
    return { log, ...(await begun(log)) }
  }

  test('is taken up at once, and keeps what is said of it', async () => {
    const { log, job, end } = await known()
    expect(job.device.value).toBe(DEVICE)
    await job.stateLock(log, LOCKED)
    expect(await cameras(log)).toMatchObject([{ lock: { state: LOCKED } }])
    await job.cannotLock(log, 'raw')
    expect(await cameras(log)).toMatchObject([{ lock: { kind: 'cannot be locked', way: 'raw' } }])
    await expect.poll(() => job.way.value).toBe('raw')
    end()
  })

  test('has its lock verified where two cards agree, and only a lock', async () => {
    const { log, job, end } = await known()
    await job.lockHeld(log)
    expect((await cameras(log))[0]?.lock).toBeNull()
    await job.stateLock(log, LOCKED)
    await expect.poll(() => job.lock()).not.toBeNull()
    await expect.poll(() => job.profile.value.stored?.data.lock?.kind).toBe('locked')
    await job.lockHeld(log)
    expect((await cameras(log))[0]?.lock).toMatchObject({ state: { ...LOCKED, lock: 'verified' } })
    end()
  })

  test('a photo fills in what its file says of a lock that was stated without one', async () => {
    const { log, job, end } = await known()
    await job.stateLock(log, LOCKED)
    await expect.poll(() => job.profile.value.stored?.data.lock?.kind).toBe('locked')
    await job.seen(log, FACTS)
    expect((await cameras(log))[0]?.lock).toMatchObject({ facts: { lens: 'wide' } })
    // Known now: another photo's file is compared with it, and does not replace it.
    await expect
      .poll(() => {
        const lock = job.profile.value.stored?.data.lock
        return lock?.kind === 'locked' && lock.facts.lens
      })
      .toBe('wide')
    await job.seen(log, { ...FACTS, software: '2.0' })
    expect((await cameras(log))[0]?.lock).toMatchObject({ facts: { software: '1.0' } })
    end()
  })

  test('steps that are not wanted are kept, each once', async () => {
    const { log, job, end } = await known()
    await job.skip(log, 'sweep')
    await expect.poll(() => job.profile.value.stored?.data.skipped).toEqual(['sweep'])
    await job.skip(log, 'heat')
    await expect.poll(() => job.profile.value.stored?.data.skipped).toEqual(['sweep', 'heat'])
    await job.skip(log, 'heat')
    expect((await cameras(log))[0]?.skipped).toEqual(['sweep', 'heat'])
    end()
  })

  test('without a device nothing is skipped', async () => {
    const log = await openTestLog()
    const { job, end } = await begun(log)
    await job.skip(log, 'sweep')
    await job.seen(log, {} as PhotoFacts)
    expect(await cameras(log)).toEqual([])
    end()
  })
})

test('raw photos need no sweep, a free balance no known heat', () => {
  expect(STEPS_OF_WAY).toEqual({
    locked: ['lock', 'card', 'sweep', 'heat'],
    raw: ['lock', 'card', 'heat'],
    'card in picture': ['lock', 'card', 'sweep'],
  })
  expect(wayOf(null)).toBe('locked')
  expect(wayOf({ kind: 'cannot be locked', way: 'raw', since: LATER })).toBe('raw')
})
