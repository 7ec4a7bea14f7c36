import { signal } from '@preact/signals'
import { describe, expect, test } from 'vitest'
import {
  type CameraItems,
  cardOf,
  devicesOf,
  flatFieldFor,
  isOfDevice,
  piecesOf,
  profileOf,
} from '../../../src/session/kit/camera-profile.ts'
import { sortKit } from '../../../src/session/kit/sort-kit.ts'
import { BALANCE, curveItem, heatItem, kitItem, toneCurve } from './items.ts'

const camera = (device: string, data: object = {}) =>
  kitItem({ id: `camera ${device}`, kind: 'camera', data: { device, ...data } as never })
const grey = (id: string, cameraId: string | null, data: object = {}, iso?: string) =>
  kitItem({
    id,
    kind: 'grey reference',
    cameraId,
    data: { balance: { ...BALANCE, id }, ...data } as never,
    ...(iso ? { date: { iso, zone: '' } } : {}),
  })
function kitOf(items: Parameters<typeof sortKit>[0]): CameraItems {
  const { cameras, greys, heats, curves } = sortKit(items)
  return {
    cameras: signal(cameras),
    greys: signal(greys),
    heats: signal(heats),
    curves: signal(curves),
  }
}

describe('a device', () => {
  test('owns what its files name, with any lens, and its live ids; no other that begins alike', () => {
    expect(isOfDevice('Phone 5', 'Phone 5')).toBe(true)
    expect(isOfDevice('Phone 5 · 2.2', 'Phone 5')).toBe(true)
    expect(isOfDevice('Phone 5s', 'Phone 5')).toBe(false)
    expect(isOfDevice('video', 'Phone 5', ['video'])).toBe(true)
    expect(isOfDevice(null, 'Phone 5')).toBe(false)
    expect(isOfDevice(' · 2.2', '')).toBe(false)
  })

  test('is listed by its last use, then those of which only a card, a curve or a heat is known', () => {
    const kit = kitOf([
      camera('Old', { usedAt: '2025-01-01T00:00:00.000Z', liveIds: ['video'] }),
      camera('New', { usedAt: '2026-01-01T00:00:00.000Z' }),
      heatItem('h', { cameraId: 'Heat phone · 2.2' }),
      grey('g', 'Card phone'),
      grey('live', 'video'),
      grey('any', null),
      curveItem('c', toneCurve('display-p3')),
      heatItem('mine', { cameraId: 'New · 4.1' }),
    ])
    const devices = devicesOf(kit)
    expect(devices.slice(0, 2)).toEqual(['New', 'Old'])
    expect(devices.slice(2).sort()).toEqual(['Card phone', 'Heat phone · 2.2', 'Made-up phone'])
  })

  test('has everything that the kit holds of it, and nothing of another', () => {
    const kit = kitOf([
      camera('Made-up phone', { liveIds: ['video'] }),
      heatItem('mine', { cameraId: 'Made-up phone · 4.1' }),
      heatItem('other', { cameraId: 'Another' }),
      grey('live', 'video'),
      grey('strange', 'Another'),
      curveItem('c', toneCurve('display-p3')),
    ])
    const { stored, greys, heats, curves } = profileOf('Made-up phone', kit)
    expect(stored?.data.device).toBe('Made-up phone')
    expect(greys.map(({ id }) => id)).toEqual(['live'])
    expect(heats.map(({ item }) => item.id)).toEqual(['mine'])
    expect(curves.map(({ id }) => id)).toEqual(['c'])
    expect(profileOf('Nobody', kit)).toMatchObject({
      stored: null,
      greys: [],
      heats: [],
      curves: [],
    })
  })
})

describe('the card of a camera', () => {
  const daylight = { kind: 'daylight', colourTemperatureK: null } as const
  const heat = (off: boolean, balance: object | null = { ...BALANCE, id: 'of heat' }) =>
    heatItem('h', { balance } as never, { off })
  const card = (items: Parameters<typeof sortKit>[0], state: object = daylight) => {
    const profile = profileOf('Made-up phone', kitOf(items))
    return cardOf(profile, 'Made-up phone', 'display-p3', state as typeof daylight)
  }

  test('is that of its known heat, so that what the card leaves open falls out', () => {
    const kept = grey('of heat', 'Made-up phone')
    const newer = grey('newer', 'Made-up phone', {}, '2026-06-01T10:00:00.000Z')
    expect(card([newer, kept, heat(false)])?.id).toBe('of heat')
    // Deleted from the kit it is still in the heat.
    expect(card([newer, heat(false)])).toMatchObject({ name: 'Card of h' })
  })

  test('without such a heat is the newest that fits', () => {
    const newer = grey('newer', 'Made-up phone', {}, '2026-06-01T10:00:00.000Z')
    expect(card([newer, heat(true)])?.id).toBe('newer')
    expect(card([newer, heat(false, null)])?.id).toBe('newer')
    expect(card([newer, heat(false)], { kind: 'locked', colourTemperatureK: null })?.id).toBe(
      'newer',
    )
    expect(card([])).toBeNull()
  })
})

describe('what is known of a camera', () => {
  const lock = (since: string) => ({
    kind: 'locked',
    state: { kind: 'daylight', colourTemperatureK: null },
    since,
    facts: { software: null, lens: null },
  })
  const since = '2026-01-01T00:00:00.000Z'
  const pieces = (days: number, items: Parameters<typeof sortKit>[0]) =>
    piecesOf(
      profileOf('Made-up phone', kitOf(items)),
      new Date(Date.parse(since) + days * 86_400_000),
    )

  test('is to be looked at again after a year, a card after half of one', () => {
    const items = [
      camera('Made-up phone', { lock: lock(since) }),
      grey('g', 'Made-up phone', {}, since),
      heatItem('h', { takenAt: since }),
    ]
    for (const [days, lockDue, cardDue] of [
      [179, false, false],
      [181, false, true],
      [364, false, true],
      [366, true, true],
    ] as const) {
      const found = pieces(days, items)
      expect([found.lock?.due, found.card?.due, found.heat?.due]).toEqual([
        lockDue,
        cardDue,
        lockDue,
      ])
    }
    expect(pieces(0, items).card?.checkAgain).toBe('2026-06-30T00:00:00.000Z')
  })

  test('names what there is, and no heat that is switched off', () => {
    expect(pieces(0, [camera('Made-up phone')])).toEqual({})
    const off = [heatItem('h', { takenAt: since }, { off: true })]
    expect(pieces(0, off)).toEqual({})
    expect(Object.keys(pieces(0, [heatItem('h', { balance: BALANCE } as never)]))).toEqual([
      'card',
      'heat',
    ])
  })

  test('counts the card in every picture where that is the way', () => {
    const way = { kind: 'cannot be locked', way: 'card in picture', since }
    const place = { x: 0.1, y: 0.1, width: 0.1, height: 0.1 }
    const card = (data: object) => pieces(0, [camera('Made-up phone', data)]).card?.since
    expect(card({ lock: way, cardPlace: place })).toBe(since)
    expect(card({ lock: way })).toBeUndefined()
  })
})

test('a card and a curve are to be checked after half a year, a lock and a known heat after a year', () => {
  const since = '2026-03-01T10:00:00.000Z'
  const kit = kitOf([
    camera('Made-up phone', {
      lock: {
        kind: 'locked',
        state: { kind: 'daylight', colourTemperatureK: null },
        since,
        facts: { exposureProgram: null, software: null, lens: null },
      },
    }),
    grey('g', 'Made-up phone', {}, since),
    curveItem('c', toneCurve('display-p3'), { check: { at: since, residual: 0.01, agrees: true } }),
    heatItem('h', { takenAt: since }),
  ])
  const dueAfter = (days: number) => {
    const now = new Date(Date.parse(since) + 86_400_000 * days)
    const pieces = Object.values(piecesOf(profileOf('Made-up phone', kit), now))
    return pieces.filter(({ due }) => due).map(({ step }) => step)
  }
  expect(dueAfter(179)).toEqual([])
  expect(dueAfter(181).sort()).toEqual(['card', 'sweep'])
  expect(dueAfter(364).sort()).toEqual(['card', 'sweep'])
  expect(dueAfter(366).sort()).toEqual(['card', 'heat', 'lock', 'sweep'])
})

test('what a lens does to colour counts for its photos in its channels only', () => {
  const field = { green: 0.02, blue: 0.05, uncertainty: 0.01 }
  const kept = { lens: 'wide', channels: 'display-p3', at: '2026-03-01T10:00:00Z', field }
  const profile = profileOf('Phone', kitOf([camera('Phone', { flatFields: [kept] })]))
  const of = (channels: string, lens: string | null) =>
    flatFieldFor(profile, { channels, facts: { lens } } as never)
  expect(of('display-p3', 'wide')).toEqual(field)
  expect([of('camera', 'wide'), of('display-p3', 'tele'), of('display-p3', null)]).toEqual([
    null,
    null,
    null,
  ])
  expect(
    flatFieldFor(profileOf('New', kitOf([])), { channels: 'camera', facts: {} } as never),
  ).toBeNull()
})
