import { signal } from '@preact/signals'
import { afterEach, expect, test } from 'vitest'
import type { Log } from '../../../src/log/schema/types.ts'
import {
  changeCamera,
  isLock,
  lastCamera,
  rememberLock,
} from '../../../src/session/kit/camera-store.ts'
import { sortKit } from '../../../src/session/kit/sort-kit.ts'
import { closeTestLogs, openTestLog } from '../../log/opening.ts'

afterEach(closeTestLogs)

const NOW = new Date('2026-05-04T10:00:00.000Z')
const cameras = async (log: Log) =>
  sortKit((await log.kit.list()).items).cameras.map(({ item, data }) => ({
    name: item.name,
    ...data,
  }))

test('the first word on a device makes its entry, a later one changes it', async () => {
  const log = await openTestLog()
  await changeCamera(log, 'Made-up phone', { usedAt: 'first' }, NOW)
  await changeCamera(log, 'Another', {}, NOW)
  await changeCamera(log, 'Made-up phone', { named: true }, NOW)
  const byName = new Map((await cameras(log)).map((one) => [one.name, one]))
  expect(byName.size).toBe(2)
  expect(byName.get('Made-up phone')).toMatchObject({ usedAt: 'first', named: true })
  expect(byName.get('Another')).toMatchObject({ device: 'Another', named: false })
})

test('two words at once make one entry', async () => {
  const log = await openTestLog()
  await Promise.all([
    changeCamera(log, 'Made-up phone', { usedAt: 'first' }, NOW),
    changeCamera(log, 'Made-up phone', { named: true }, NOW),
  ])
  expect(await cameras(log)).toMatchObject([{ usedAt: 'first', named: true }])
})

test('what changes nothing is not written', async () => {
  const log = await openTestLog()
  await changeCamera(log, 'Made-up phone', { usedAt: 'first' }, NOW)
  let told = 0
  log.subscribe(() => told++)
  await changeCamera(log, 'Made-up phone', { usedAt: 'first' }, NOW)
  expect(told).toBe(0)
})

test('one write that fails does not hold up the next', async () => {
  const log = await openTestLog()
  await expect(changeCamera(log, '', {}, NOW)).rejects.toThrow()
  await changeCamera(log, 'Made-up phone', {}, NOW)
  expect(await cameras(log)).toHaveLength(1)
})

test('a lock is kept with what the file said; a balance that is free is none', async () => {
  const log = await openTestLog()
  const facts = { exposureProgram: 2, software: '1.0', lens: '2.2' }
  const state = { kind: 'daylight', colourTemperatureK: null } as const
  await rememberLock(log, 'Made-up phone', facts, state, NOW)
  const since = NOW.toISOString()
  const [locked] = await cameras(log)
  expect(locked).toMatchObject({ lock: { kind: 'locked', state, since, facts }, usedAt: since })
  const later = new Date('2026-06-04T10:00:00.000Z')
  await rememberLock(log, 'Made-up phone', facts, { ...state, kind: 'automatic' }, later)
  // The camera was used, and its lock stays.
  expect((await cameras(log))[0]).toMatchObject({ lock: { since }, usedAt: later.toISOString() })
  for (const kind of ['daylight', 'lamp', 'locked'] as const)
    expect(isLock({ ...state, kind })).toBe(true)
  for (const kind of ['automatic', 'unknown'] as const)
    expect(isLock({ ...state, kind })).toBe(false)
})

test('the camera used last is the one with the latest photo', async () => {
  const log = await openTestLog()
  await changeCamera(log, 'A', { usedAt: '2026-01-01T00:00:00.000Z' }, NOW)
  await changeCamera(log, 'B', { usedAt: '2026-03-01T00:00:00.000Z' }, NOW)
  await changeCamera(log, 'C', { usedAt: '2026-02-01T00:00:00.000Z' }, NOW)
  const kit = { cameras: signal(sortKit((await log.kit.list()).items).cameras) }
  expect(lastCamera(kit)?.data.device).toBe('B')
  expect(lastCamera({ cameras: signal([]) })).toBeUndefined()
})
