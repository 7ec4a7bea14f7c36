import { expect, test } from 'vitest'
import type { KitItem, Log, NewKitItem } from '../../../src/log/schema/types.ts'
import { profileOf } from '../../../src/session/kit/camera-profile.ts'
import { createKitModel } from '../../../src/session/kit/kit-model.ts'
import { deviceOfLive, joinLive } from '../../../src/session/live/live-device.ts'
import { heatItem, kitItem } from '../kit/items.ts'

/** A log whose kit can be changed. */
function logOf(items: KitItem[]): Log {
  const listeners = new Set<(change: unknown) => void>()
  const tell = () => {
    for (const listener of listeners) listener({ kind: 'kit', elsewhere: false })
  }
  return {
    kit: {
      list: async (kind?: string) => ({
        items: items.filter((one) => kind === undefined || one.kind === kind),
        damaged: [],
      }),
      add: async (item: NewKitItem) => {
        items.push(kitItem({ ...item, id: `item ${items.length}` } as never))
        tell()
      },
      change: async (id: string, changes: object) => {
        const at = items.findIndex((one) => one.id === id)
        items[at] = { ...items[at]!, ...changes }
        tell()
      },
    },
    subscribe(listener: (change: unknown) => void) {
      listeners.add(listener)
      return () => listeners.delete(listener)
    },
  } as unknown as Log
}

const camera = (device: string): KitItem =>
  kitItem({ id: device, kind: 'camera', data: { device } as never })
const LIVE = 'live · rear camera'
const NOW = new Date('2026-05-01T10:00:00Z')

test('a live camera joins the entry of its device, and leaves the one it was said of before', async () => {
  const log = logOf([camera('First phone'), camera('Second phone')])
  const kit = createKitModel(Promise.resolve(log))
  await expect.poll(() => kit.cameras.value.length).toBe(2)
  expect(deviceOfLive(kit, LIVE)).toBe('')
  await joinLive(log, kit, LIVE, 'First phone', NOW)
  await expect.poll(() => deviceOfLive(kit, LIVE)).toBe('First phone')
  expect(profileOf('First phone', kit).stored?.data.usedAt).toBe(NOW.toISOString())
  await joinLive(log, kit, LIVE, 'Second phone', NOW)
  await expect.poll(() => deviceOfLive(kit, LIVE)).toBe('Second phone')
  expect(profileOf('First phone', kit).stored?.data.liveIds).toEqual([])
  await joinLive(log, kit, LIVE, '', NOW)
  await expect.poll(() => deviceOfLive(kit, LIVE)).toBe('')
})

test('what the kit holds of the stream then stands with its device, also with a new one', async () => {
  const log = logOf([heatItem('salt by the stream', { cameraId: LIVE })])
  const kit = createKitModel(Promise.resolve(log))
  await expect.poll(() => kit.state.value).toBe('read')
  await joinLive(log, kit, LIVE, 'Shop phone', NOW)
  await expect.poll(() => deviceOfLive(kit, LIVE)).toBe('Shop phone')
  const { stored, heats } = profileOf('Shop phone', kit)
  expect(stored?.data.named).toBe(true)
  expect(heats.map(({ item }) => item.id)).toEqual(['salt by the stream'])
})

test('joining twice holds its id once, and others of the device stay', async () => {
  const log = logOf([camera('First phone')])
  const kit = createKitModel(Promise.resolve(log))
  await expect.poll(() => kit.cameras.value.length).toBe(1)
  const ids = () => profileOf('First phone', kit).stored?.data.liveIds
  await joinLive(log, kit, LIVE, 'First phone', NOW)
  await expect.poll(ids).toEqual([LIVE])
  await joinLive(log, kit, 'live · front camera', 'First phone', NOW)
  await expect.poll(ids).toEqual([LIVE, 'live · front camera'])
  await joinLive(log, kit, LIVE, 'First phone', NOW)
  await expect.poll(ids).toEqual(['live · front camera', LIVE])
})

test('of one device the twenty latest streams are kept: browsers give new ids now and then', async () => {
  const log = logOf([camera('First phone')])
  const kit = createKitModel(Promise.resolve(log))
  await expect.poll(() => kit.cameras.value.length).toBe(1)
  const ids = () => profileOf('First phone', kit).stored?.data.liveIds ?? []
  for (let i = 1; i <= 21; i++) {
    await joinLive(log, kit, `stream ${i}`, 'First phone', NOW)
    await expect.poll(() => ids().at(-1)).toBe(`stream ${i}`)
    if (i === 20) expect(ids()[0]).toBe('stream 1')
  }
  expect(ids()[0]).toBe('stream 2')
})

test('a device that has nothing to do with it is left as it is', async () => {
  const items = [camera('First phone'), camera('Second phone')]
  const [first] = items
  const log = logOf(items)
  const kit = createKitModel(Promise.resolve(log))
  await expect.poll(() => kit.cameras.value.length).toBe(2)
  await joinLive(log, kit, LIVE, 'Second phone', NOW)
  await expect.poll(() => deviceOfLive(kit, LIVE)).toBe('Second phone')
  expect(items[0]).toBe(first)
  // Said of none, no new one is made.
  await joinLive(log, kit, 'live · front camera', '', NOW)
  expect(items).toHaveLength(2)
})
