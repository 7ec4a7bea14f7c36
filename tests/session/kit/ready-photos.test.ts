import { signal } from '@preact/signals'
import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest'
import type { Log } from '../../../src/log/schema/types.ts'
import { createKitModel } from '../../../src/session/kit/kit-model.ts'
import type { ReadyJob } from '../../../src/session/kit/ready-job.ts'
import { createReadyPhotos } from '../../../src/session/kit/ready-photos.ts'
import { sortKit } from '../../../src/session/kit/sort-kit.ts'
import { contentIdOf } from '../../../src/session/reading/content-id.ts'
import type { PhotoFacts } from '../../../src/sources/files/photo-facts.ts'
import { closeTestLogs, openTestLog } from '../../log/opening.ts'
import { madePhoto, madeSweep, openWorkers, PHONE, stubMadePhotos } from '../made-photos.ts'
import { memoryCaches } from '../memory-caches.ts'

beforeEach(() => {
  stubMadePhotos()
  vi.stubGlobal('navigator', {})
  vi.stubGlobal('caches', memoryCaches())
})
afterEach(closeTestLogs)

const NOW = new Date('2026-05-04T10:00:00Z')
const DAYLIGHT = { kind: 'daylight', colourTemperatureK: null } as const
const at = (minute: number) => `2026-05-04T09:${String(minute).padStart(2, '0')}:00`
const card = (minute: number) =>
  madePhoto(
    { card: 'fills the picture', seed: minute, facts: { ...PHONE, takenAt: at(minute) } },
    `card ${minute}.jpg`,
  )
const glow = (temperatureK: number, minute: number, name = `glow ${minute}.jpg`) =>
  madePhoto({ temperatureK, facts: { ...PHONE, takenAt: at(minute) } }, name)

async function begun(log: Log) {
  const kit = createKitModel(Promise.resolve(log))
  await expect.poll(() => kit.state.value).toBe('read')
  const said: unknown[] = []
  const job = {
    device: signal('Made-up · phone'),
    lock: () => null,
    stateLock: async (_: Log, state: unknown) => void said.push(state),
    seen: async (_: Log, { model }: PhotoFacts) => void said.push(model),
  } as unknown as ReadyJob
  const ready = createReadyPhotos(kit, job)
  const end = () => {
    ready.dispose()
    kit.dispose()
  }
  const outcomes = () => ready.groups.value.map(({ outcome }) => outcome)
  const roles = () => ready.groups.value.map(({ role }) => role)
  const kept = async () => sortKit((await log.kit.list()).items)
  return { ready, said, roles, outcomes, kept, end }
}

describe('photos of making a camera ready', () => {
  test('are sorted: the card, a dull sweep for the salt, another for the curve', async () => {
    const { ready, roles, end } = await begun(await openTestLog())
    const sweep = (temperatureK: number, minute: number) =>
      madeSweep({ temperatureK, facts: { takenAt: at(minute) } }, [0.8, -1, -3]).map(
        (file, i) => new File([file], `${minute} ${i}.jpg`),
      )
    await ready.add([card(1), ...sweep(1073, 10), ...sweep(2600, 30), new File(['none'], 'a.txt')])
    expect(roles()).toEqual(['card', 'known heat', 'sweep'])
    expect(ready.failed.value.map(({ name }) => name)).toEqual(['a.txt'])
    expect(ready.progress.value).toBeNull()
    end()
    expect(openWorkers()).toBe(0)
  })

  // A lamp's filament is yellower than salt: G/R of 0.2 in the file's own space.
  test.each([
    ['as dull as salt', 1490, 'known heat'],
    ['as yellow as a lamp', 1540, 'left out'],
  ])('one glow %s is offered accordingly', async (_, temperatureK, role) => {
    const { ready, roles, end } = await begun(await openTestLog())
    await ready.add([glow(temperatureK, 1)])
    expect(roles()).toEqual([role])
    end()
  })

  test('the salt is the one that is named so, whatever its colour; the person has the last word', async () => {
    const { ready, roles, end } = await begun(await openTestLog())
    await ready.add([glow(1073, 1), glow(2000, 20, 'Salt 2.jpg')])
    expect(roles()).toEqual(['left out', 'known heat'])
    ready.setRole(0, 'known heat')
    ready.setRole(1, 'left out')
    ready.setRole(7, 'card')
    expect(roles()).toEqual(['known heat', 'left out'])
    end()
  })

  test('nothing is stored of nothing', async () => {
    const log = await openTestLog()
    const { ready, end } = await begun(log)
    expect(await ready.store(log, NOW)).toBe(false)
    expect((await log.kit.list()).items).toEqual([])
    end()
  })
})

describe('what is stored', () => {
  test('is the card first, by which the salt is read; two cards that agree prove the lock', async () => {
    const log = await openTestLog()
    const { ready, said, outcomes, kept, end } = await begun(log)
    await ready.add([card(1), glow(1073.55, 10), card(20)])
    ready.balanceState.value = DAYLIGHT
    ready.materialId.value = 'cavity'
    expect(await ready.store(log, NOW)).toBe(true)
    expect(said).toEqual([DAYLIGHT, 'phone'])
    expect(outcomes()).toEqual(['card', 'known heat', 'card, lock held'])
    expect(ready.progress.value).toBeNull()
    const { greys, heats, cameras } = await kept()
    expect(heats).toMatchObject([
      {
        reference: {
          cameraId: 'Made-up · phone · wide',
          temperatureK: 1073.55,
          balance: { id: await contentIdOf(card(1)) },
          surface: { id: 'cavity' },
        },
      },
    ])
    expect(greys).toHaveLength(2)
    expect(cameras).toMatchObject([
      { data: { device: 'Made-up · phone', lock: { state: { lock: 'verified' } } } },
    ])
    end()
  })

  test('proves no lock where the balance is free: two cards may agree by chance', async () => {
    const log = await openTestLog()
    const { ready, outcomes, kept, end } = await begun(log)
    await ready.add([card(1), card(20)])
    ready.balanceState.value = { ...DAYLIGHT, kind: 'automatic' }
    expect(await ready.store(log, NOW)).toBe(true)
    expect(outcomes()).toEqual(['card', 'card'])
    expect((await kept()).cameras[0]?.data.lock?.kind).not.toBe('locked')
    end()
  })

  test('is nothing of a glow that cannot be read: the person is told, the rest is kept', async () => {
    const log = await openTestLog()
    const { ready, outcomes, kept, end } = await begun(log)
    const clipped = madePhoto(
      { temperatureK: 1073, stops: 3, facts: { ...PHONE, takenAt: at(10) } },
      'salt.jpg',
    )
    await ready.add([card(1), clipped])
    ready.setRole(1, 'known heat')
    ready.balanceState.value = DAYLIGHT
    expect(await ready.store(log, NOW)).toBe(false)
    expect(outcomes()).toEqual(['card', 'refused'])
    const { greys, heats } = await kept()
    expect([greys.length, heats.length]).toEqual([1, 0])
    end()
  })

  test('is a known heat by one photo where its others give no curve, and no curve of a single one', async () => {
    const log = await openTestLog()
    const { ready, outcomes, kept, end } = await begun(log)
    await ready.add([...madeSweep({ temperatureK: 1073.55 }, [0.8, 0, -1, -2]), glow(1200, 40)])
    const single = ready.groups.value.findIndex(({ group }) => group.photos.length === 1)
    ready.setRole(single, 'sweep')
    ready.setRole(1 - single, 'known heat')
    ready.balanceState.value = DAYLIGHT
    expect(await ready.store(log, NOW)).toBe(false)
    expect(outcomes()[single]).toBe('refused')
    expect(outcomes()[1 - single]).toBe('known heat by one photo')
    const { heats, curves } = await kept()
    expect([heats.length, curves.length]).toEqual([1, 0])
    end()
  })

  test('is the tone curve of a sweep, once', async () => {
    const log = await openTestLog()
    const { ready, outcomes, kept, end } = await begun(log)
    await ready.add(madeSweep({ temperatureK: 1200 }))
    ready.setRole(0, 'sweep')
    expect(await ready.store(log, NOW)).toBe(true)
    expect(outcomes()).toEqual(['curve'])
    expect((await kept()).curves).toMatchObject([
      { cameraId: 'Made-up · phone · wide', name: 'Tone curve, phone' },
    ])
    end()
  })
})

describe('whose photos they are', () => {
  const unnamed = (minute: number) =>
    madePhoto({ card: 'fills the picture', seed: minute, facts: { takenAt: at(minute) } }, 'a.jpg')

  test('is told by the one that names its camera, wherever it lies among them', async () => {
    const log = await openTestLog()
    const { ready, said, end } = await begun(log)
    await ready.add([unnamed(1), card(20)])
    await ready.store(log, NOW)
    expect(said[1]).toBe('phone')
    end()
  })

  test('is said by the camera that is made ready where none names it', async () => {
    const log = await openTestLog()
    const { ready, kept, end } = await begun(log)
    await ready.add([unnamed(1)])
    expect(await ready.store(log, NOW)).toBe(true)
    expect((await kept()).greys[0]?.cameraId).toContain('Made-up · phone')
    end()
  })
})

test('a sweep of the salt is a known heat and gives the curve, by the card of the kit', async () => {
  const log = await openTestLog()
  const first = await begun(log)
  await first.ready.add([card(1)])
  await first.ready.store(log, NOW)
  first.end()
  const { ready, outcomes, kept, end } = await begun(log)
  const steps: (number | null)[] = []
  const stop = ready.progress.subscribe((value) => void steps.push(value))
  await ready.add(madeSweep({ temperatureK: 1073.55 }))
  expect(steps).toEqual([null, 0, 1 / 6, 2 / 6, 3 / 6, 4 / 6, 5 / 6, 1, null])
  stop()
  ready.balanceState.value = DAYLIGHT
  ready.setRole(0, 'known heat')
  expect(await ready.store(log, NOW)).toBe(true)
  expect(outcomes()).toEqual(['known heat'])
  const { heats, curves } = await kept()
  expect(heats[0]?.reference).toMatchObject({
    linearity: { kind: 'sweep' },
    balance: { id: await contentIdOf(card(1)) },
  })
  expect(curves).toHaveLength(1)
  end()
})

test('photos of a camera whose lock is known are supposed to be taken with it', async () => {
  const kit = createKitModel(openTestLog())
  const lock = { kind: 'locked', state: DAYLIGHT }
  const stateOf = (stored: unknown) =>
    createReadyPhotos(kit, { lock: () => stored } as unknown as ReadyJob).balanceState.value.kind
  expect(stateOf(lock)).toBe('daylight')
  for (const none of [null, { kind: 'cannot be locked', way: 'raw' }])
    expect(stateOf(none)).toBe('unknown')
  kit.dispose()
})
