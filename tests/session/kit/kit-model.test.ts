import { describe, expect, test } from 'vitest'
import type { KitItem, Log, LogChange } from '../../../src/log/schema/types.ts'
import { camerasOf } from '../../../src/session/kit/cameras.ts'
import { createKitModel } from '../../../src/session/kit/kit-model.ts'
import { sortKit } from '../../../src/session/kit/sort-kit.ts'
import { BALANCE, curveItem, heatItem, kitItem, REFERENCE, toneCurve } from './items.ts'

/** A log that holds these items and tells when they change. */
function logWith(items: KitItem[]) {
  const listeners = new Set<(change: LogChange) => void>()
  const log = {
    kit: { list: async () => ({ items: [...items], damaged: [] }) },
    subscribe(listener: (change: LogChange) => void) {
      listeners.add(listener)
      return () => listeners.delete(listener)
    },
  } as unknown as Log
  return {
    log: Promise.resolve(log),
    listeners,
    tell: () => {
      for (const listener of listeners) listener({ kind: 'kit', elsewhere: false })
    },
  }
}

describe('the kit sorted', () => {
  test('gives each kind to those who use it, with the id and name of the item', () => {
    const { cameras, greys, heats, lamps, unreadable } = sortKit([
      kitItem({
        id: 'g',
        kind: 'grey reference',
        name: 'Card',
        data: { balance: BALANCE } as never,
      }),
      heatItem('h'),
      kitItem({
        id: 'c',
        kind: 'camera',
        data: { device: 'Made-up phone', hint: 'kept' } as never,
      }),
    ])
    // What a later version wrote beside it stays.
    expect(cameras).toMatchObject([{ data: { device: 'Made-up phone', hint: 'kept', lock: null } }])
    expect(greys).toMatchObject([{ id: 'g', name: 'Card', balance: { id: 'g' } }])
    expect(heats).toMatchObject([{ off: false, reference: { id: 'h', name: 'h' } }])
    expect(lamps).toEqual([])
    expect(unreadable).toEqual([])
  })

  // Items come from files too: nothing half-right may reach the estimate.
  test.each([
    ['a temperature below zero', { temperatureK: -5 }],
    ['a number that is none', { standardUncertaintyK: Number.NaN }],
    ['a colour of two channels', { glow: { ...REFERENCE.glow, mean: [1, 2] } }],
    ['an unknown balance state', { balanceState: { kind: 'guessed', colourTemperatureK: null } }],
    ['an unknown light path', { linearity: { kind: 'curved' } }],
  ])('leaves out a known heat with %s, and names it', (_, part) => {
    const { heats, unreadable } = sortKit([heatItem('bad', part as never), heatItem('good')])
    expect(heats.map(({ item }) => item.id)).toEqual(['good'])
    expect(unreadable).toMatchObject([{ id: 'bad', name: 'bad', where: /\w/ }])
  })
})

describe('a tone curve of the kit', () => {
  const curve = toneCurve('srgb')

  test('comes with its date, its camera and its latest check', () => {
    const check = { at: '2026-03-02T10:00:00Z', residual: 0.01, agrees: true }
    const { curves } = sortKit([
      curveItem('c', curve, { check, channelOdds: 12 }),
      curveItem('d', curve),
    ])
    expect(curves).toMatchObject([
      {
        id: 'c',
        cameraId: 'Made-up phone',
        check,
        foundAt: '2026-03-01T10:00:00.000+01:00',
        channelOdds: 12,
      },
      { id: 'd', check: null, channelOdds: 1 },
    ])
  })

  // Version 1 counted the response over another axis: applied today it would bend wrongly.
  test('of an earlier version is told apart, and not offered', () => {
    const { basis } = curve.response
    const response = { ...curve.response, basis: { ...basis, size: 20 } }
    const { curves, earlierCurves, unreadable } = sortKit([
      curveItem('old', { ...curve, version: 1, response }),
      curveItem('same size', { ...curve, version: 1 }),
    ])
    expect(curves).toEqual([])
    expect(earlierCurves.map(({ id }) => id)).toEqual(['old', 'same size'])
    expect(unreadable).toEqual([])
  })

  test.each([
    ['coefficients that do not fit', { response: { ...curve.response, coefficients: [1, 2] } }],
    ['a covariance cut off', { covariance: [0] }],
    ['an unknown version', { version: 3 }],
  ])('with %s is left out, and named', (_, part) => {
    const { curves, unreadable } = sortKit([curveItem('bad', { ...curve, ...part })])
    expect(curves).toEqual([])
    expect(unreadable).toMatchObject([{ id: 'bad', name: 'bad', where: /\w/ }])
  })
})

describe('the kit model', () => {
  test('counts only known heats that are not switched off', async () => {
    const { log } = logWith([heatItem('on'), heatItem('off', {}, { off: true })])
    const kit = createKitModel(log)
    await expect.poll(() => kit.state.value).toBe('read')
    expect(kit.heats.value).toHaveLength(2)
    expect(kit.references.value.map(({ id }) => id)).toEqual(['on'])
  })

  test('follows changes until it is let go', async () => {
    const items: KitItem[] = []
    const { log, tell, listeners } = logWith(items)
    const kit = createKitModel(log)
    await expect.poll(() => kit.state.value).toBe('read')
    items.push(heatItem('new'))
    tell()
    await expect.poll(() => kit.heats.value).toHaveLength(1)
    kit.dispose()
    expect(listeners.size).toBe(0)
  })

  test('gives each kind to those who use it, and names what cannot be used', async () => {
    const kind = (of: KitItem['kind'], data: object) =>
      kitItem({ id: of, kind: of, data: data as never })
    const items = [
      kind('camera', { device: 'Made-up phone' }),
      kind('grey reference', { balance: BALANCE }),
      heatItem('known heat'),
      curveItem('tone curve', toneCurve('srgb')),
      curveItem('earlier', { ...toneCurve('srgb'), version: 1 }),
      kind('lamp', {}),
    ]
    const { log } = logWith(items)
    const opened = await log
    const damaged = [{ id: 'torn', where: 'data' }]
    const list = async () => ({ items, damaged })
    const kit = createKitModel(Promise.resolve({ ...opened, kit: { list } } as unknown as Log))
    expect([kit.state.value, kit.items.value]).toEqual(['reading', []])
    await expect.poll(() => kit.state.value).toBe('read')
    expect(kit.items.value).toEqual(items)
    const named = [kit.cameras, kit.heats, kit.lamps, kit.responses].map(({ value }) =>
      value.map(({ item }) => item.id),
    )
    expect(named).toEqual([['camera'], ['known heat'], [], []])
    const ids = [kit.greys, kit.curves, kit.earlierCurves].map(({ value }) =>
      value.map(({ id }) => id),
    )
    expect(ids).toEqual([['grey reference'], ['tone curve'], ['earlier']])
    expect(kit.unreadable.value).toEqual([
      { id: 'lamp', name: 'lamp', where: expect.stringMatching(/\w/) },
      { id: 'torn', name: 'Damaged item', where: 'data' },
    ])
    kit.dispose()
  })

  test('is read again only when it changes, and a slower answer to an earlier question is dropped', async () => {
    const waiting: ((items: KitItem[]) => void)[] = []
    const listeners = new Set<(change: LogChange) => void>()
    const list = () =>
      new Promise((resolve) => {
        waiting.push((items) => resolve({ items, damaged: [] }))
      })
    const kit = createKitModel(
      Promise.resolve({
        kit: { list },
        subscribe(listener: (change: LogChange) => void) {
          listeners.add(listener)
          return () => listeners.delete(listener)
        },
      } as unknown as Log),
    )
    const tell = (kind: string) => {
      for (const listener of listeners) listener({ kind } as LogChange)
    }
    await expect.poll(() => waiting.length).toBe(1)
    tell('readings')
    expect(waiting).toHaveLength(1)
    tell('everything')
    expect(waiting).toHaveLength(2)
    waiting[1]!([heatItem('new')])
    await expect.poll(() => kit.heats.value.length).toBe(1)
    waiting[0]!([])
    await new Promise((resolve) => setTimeout(resolve))
    expect(kit.heats.value).toHaveLength(1)
    tell('everything')
    kit.dispose()
    waiting[2]!([])
    await new Promise((resolve) => setTimeout(resolve))
    expect(kit.heats.value).toHaveLength(1)
  })

  test('says why it could not be read', async () => {
    const failure = new Error('refused')
    const kit = createKitModel(Promise.reject(failure))
    await expect.poll(() => kit.state.value).toEqual({ failed: failure })
    expect(kit.references.value).toEqual([])
  })
})

describe('cameras of a kit', () => {
  const heats = sortKit([
    heatItem('salt'),
    heatItem('copper', { temperatureK: 1338 }),
    heatItem('under lamp light', { balanceState: { kind: 'lamp', colourTemperatureK: null } }),
    heatItem('locked', { balanceState: { kind: 'locked', colourTemperatureK: 5500 } }),
    // Ten mired are one state: 5550 K is 1.6 mired from 5500 K.
    heatItem('locked near by', { balanceState: { kind: 'locked', colourTemperatureK: 5550 } }),
    heatItem('raw', { channels: 'camera' }),
    heatItem('other', { cameraId: 'Another camera' }),
  ]).heats

  test('are apart by device, and within by white balance and channels', () => {
    const cameras = camerasOf(heats, [])
    expect(cameras.map(({ id }) => id)).toEqual(['Made-up phone', 'Another camera'])
    expect(cameras[0]?.states.map((state) => state.heats.map(({ item }) => item.id))).toEqual([
      ['salt', 'copper'],
      ['under lamp light'],
      ['locked', 'locked near by'],
      ['raw'],
    ])
  })

  test('count their grey cards, and are listed for a card alone', () => {
    const { greys } = sortKit([
      kitItem({
        id: 'g',
        kind: 'grey reference',
        cameraId: 'Only a card',
        data: { balance: BALANCE } as never,
      }),
    ])
    expect(camerasOf([], greys)).toEqual([{ id: 'Only a card', greys: 1, states: [] }])
  })
})
