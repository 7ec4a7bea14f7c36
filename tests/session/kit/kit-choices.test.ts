import { describe, expect, test } from 'vitest'
import type { KnownHeatReference } from '../../../src/estimate/types.ts'
import type { Json, KitItem } from '../../../src/log/schema/types.ts'
import { createLampModel } from '../../../src/session/kit/lamp-model.ts'
import { sortKit } from '../../../src/session/kit/sort-kit.ts'
import { BALANCE, curveItem, heatItem, kitItem, toneCurve } from './items.ts'

/** Whether the kit reads an item, and does not put it apart. */
const reads = (item: KitItem) => {
  const { unreadable, ...kinds } = sortKit([item])
  return unreadable.length === 0 && Object.values(kinds).some((of) => of.length === 1)
}
const heat = (part: object, more: Record<string, unknown> = {}) =>
  reads(heatItem('heat', part as Partial<KnownHeatReference>, more))
const camera = (part: object) =>
  reads(kitItem({ id: 'c', kind: 'camera', data: { device: 'Made-up phone', ...part } as Json }))
const grey = (light: object, more: object = {}) =>
  reads(
    kitItem({
      id: 'g',
      kind: 'grey reference',
      data: { balance: { ...BALANCE, light: { ...BALANCE.light, ...light } }, ...more } as Json,
    }),
  )

const curveId = 'Made-up phone'
const uncertain = { standardUncertaintyGreen: 0.01, standardUncertaintyBlue: 0.02 }
const locked = {
  kind: 'locked',
  state: { kind: 'daylight', colourTemperatureK: null },
  since: '2026-03-01T10:00:00Z',
  facts: { exposureProgram: 1, software: '1.0', lens: null },
}
const cannot = { kind: 'cannot be locked', since: '2026-03-01T10:00:00Z' }
const origin = {
  kind: 'known heat',
  id: 'copper',
  atmosphere: null,
  steelClass: null,
  valueK: null,
  limitsOfErrorK: null,
}
const byLamp = () => {
  const model = createLampModel(null)
  model.change({ name: 'Bench lamp' })
  return model.subject()!.origin
}
const { lamp } = byLamp()
const lampOf = (part: object) =>
  reads(kitItem({ id: 'l', kind: 'lamp', data: { ...lamp, ...part } as Json }))

describe('a known heat of the kit', () => {
  test.each(['daylight', 'lamp', 'locked', 'raw', 'automatic', 'unknown'])(
    'may be taken with a balance that is %s',
    (kind) => expect(heat({ balanceState: { kind, colourTemperatureK: null } })).toBe(true),
  )

  test('may have a lock that was set or verified, in channels of a file or a camera', () => {
    const lock = (of: string) => ({
      balanceState: { kind: 'locked', colourTemperatureK: 5500, lock: of },
    })
    expect(['set', 'verified', 'hoped'].map((of) => heat(lock(of)))).toEqual([true, true, false])
    const channels = ['display-p3', 'camera', 'srgb'].map((of) => heat({ channels: of }))
    expect(channels).toEqual([true, true, false])
  })

  test('may come by any light path, each with what it needs', () => {
    const storedLevels = [0.7, 0.2, 0.02]
    for (const linearity of [
      { kind: 'linear' },
      { kind: 'raw' },
      { kind: 'sweep', curveId, ...uncertain },
      { kind: 'sweep', curveId, ...uncertain, greenErrors: [0.01], ownUncertainty: 0.1, photos: 6 },
      { kind: 'single', curveId, storedLevels, space: 'srgb' },
      { kind: 'single', curveId, storedLevels, space: 'display-p3' },
    ])
      expect(heat({ linearity }), JSON.stringify(linearity)).toBe(true)
    for (const linearity of [
      { kind: 'sweep', curveId },
      { kind: 'single', curveId, storedLevels },
      { kind: 'single', curveId, storedLevels, space: 'adobe' },
    ])
      expect(heat({ linearity }), JSON.stringify(linearity)).toBe(false)
  })

  test('says by what it is known: a melt, a change in steel, a meter, a lamp', () => {
    for (const atmosphere of ['covered', 'open-air'])
      expect(heat({}, { origin: { ...origin, atmosphere } }), atmosphere).toBe(true)
    for (const steelClass of ['low-carbon', 'medium-carbon', 'high-carbon', 'unknown'])
      expect(heat({}, { origin: { ...origin, steelClass } }), steelClass).toBe(true)
    expect(heat({}, { origin: { ...origin, valueK: 1193, limitsOfErrorK: 7 } })).toBe(true)
    for (const method of ['rated', 'volts', 'watts', 'resistance'])
      expect(heat({}, { origin: { ...byLamp(), method } }), method).toBe(true)
    for (const wrong of [
      { ...origin, atmosphere: 'vacuum' },
      { ...origin, steelClass: 'stainless' },
      { ...byLamp(), method: 'by eye' },
      { kind: 'guess' },
    ])
      expect(heat({}, { origin: wrong }), JSON.stringify(wrong).slice(0, 60)).toBe(false)
  })

  test('may state the level that it was seen at, also as one picture of a stream', () => {
    const level = { exposureSeconds: 0.01, iso: 100, fNumber: 2, fieldRadius: 0.2 }
    const measured = { lnOff: 0.1, standardUncertainty: 0.01 }
    expect(heat({ level })).toBe(true)
    expect(heat({ level: { ...level, measured, stream: true } })).toBe(true)
    expect(heat({ level: { ...level, stream: false } })).toBe(false)
    expect(heat({ level: { ...level, iso: undefined } })).toBe(false)
  })
})

describe('a card of the kit', () => {
  test.each(['daylight', 'filament', 'other'])('may lie in light that is %s', (kind) =>
    expect(grey({ kind })).toBe(true),
  )

  test('lies in some light, and is named by what its file holds where that is known', () => {
    expect(grey({ kind: 'moonlight' })).toBe(false)
    const item = (more: object) =>
      sortKit([
        kitItem({ id: 'g', kind: 'grey reference', data: { balance: BALANCE, ...more } as Json }),
      ]).greys[0]
    expect(item({})).toMatchObject({ balance: { id: 'g' }, channels: 'display-p3' })
    expect(item({ contentId: 'content 1', channels: 'camera' })).toMatchObject({
      balance: { id: 'content 1' },
      channels: 'camera',
    })
  })
})

describe('a camera of the kit', () => {
  test('is locked, or is used in one of two other ways', () => {
    expect(camera({ lock: locked })).toBe(true)
    for (const way of ['raw', 'card in picture'])
      expect(camera({ lock: { ...cannot, way } }), way).toBe(true)
    for (const lock of [{ ...cannot, way: 'by magic' }, { ...locked, facts: {} }, { kind: 'open' }])
      expect(camera({ lock }), JSON.stringify(lock)).toBe(false)
    // An earlier version has not kept the program.
    const { exposureProgram: _, ...facts } = locked.facts
    expect(camera({ lock: { ...locked, facts } })).toBe(true)
  })

  test('may be done without each of its steps, and has a name', () => {
    expect(camera({ skipped: ['lock', 'card', 'sweep', 'heat'] })).toBe(true)
    expect(camera({ skipped: ['coffee'] })).toBe(false)
    expect(camera({ device: '' })).toBe(false)
  })

  test('of which nothing more is kept has nothing more', () => {
    const bare = kitItem({ id: 'c', kind: 'camera', data: { device: 'Made-up phone' } as Json })
    expect(sortKit([bare]).cameras[0]?.data).toEqual({
      device: 'Made-up phone',
      named: false,
      lock: null,
      usual: null,
      leakTests: [],
      exposures: [],
      exposuresAt: '',
      cardPlace: null,
      flatFields: [],
      usedAt: '',
      liveIds: [],
      skipped: [],
    })
  })
})

describe('a lamp of the kit', () => {
  test('is rated in one of three ways, and fed whole or cut', () => {
    for (const ratingKind of ['general-service', 'halogen', 'stated'])
      expect(lampOf({ ratingKind }), ratingKind).toBe(true)
    expect(lampOf({ ratingKind: 'sodium' })).toBe(false)
    expect(lampOf({ supply: { kind: 'whole' } })).toBe(true)
    for (const meter of ['true-rms', 'average-responding', 'unknown'])
      expect(lampOf({ supply: { kind: 'cut', meter, supplyVolts: 230 } }), meter).toBe(true)
    for (const supply of [{ kind: 'cut', meter: 'lost', supplyVolts: 230 }, { kind: 'pulsed' }])
      expect(lampOf({ supply }), JSON.stringify(supply)).toBe(false)
  })
})

describe('a tone curve of the kit', () => {
  test('is one of all channels or of their ratio, in the space of a file', () => {
    const curve = toneCurve('srgb')
    const of = (part: object) => reads(curveItem('curve', { ...curve, ...part }))
    for (const kind of ['channel', 'ratio'])
      expect(of({ kind, response: { ...curve.response, kind } }), kind).toBe(true)
    expect(['srgb', 'display-p3', 'adobe'].map((space) => of({ space }))).toEqual([
      true,
      true,
      false,
    ])
    expect(of({ kind: 'spline' })).toBe(false)
  })
})
