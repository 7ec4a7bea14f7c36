import { describe, expect, test } from 'vitest'
import type { Json, KitItem } from '../../../src/log/schema/types.ts'
import { createLampModel } from '../../../src/session/kit/lamp-model.ts'
import { sortKit } from '../../../src/session/kit/sort-kit.ts'
import { subjectOrigin } from '../../../src/session/kit/subject.ts'
import { curveItem, heatItem, kitItem, REFERENCE, toneCurve } from './items.ts'

/** Where the first thing lies that the kit cannot read; null: it is read. */
const unreadable = (item: KitItem): string | null => sortKit([item]).unreadable[0]?.where ?? null

const many = <Of>(count: number, of: Of): Of[] => new Array<Of>(count).fill(of)
const long = (length: number) => 'n'.repeat(length)

const SWEPT = {
  kind: 'sweep',
  curveId: 'curve',
  standardUncertaintyGreen: 0.01,
  standardUncertaintyBlue: 0.02,
}
const heat = (change: object) => heatItem('heat', { ...REFERENCE, ...change } as never)
const swept = (change: object) => heat({ linearity: { ...SWEPT, ...change } })
const lampAt = (temperatureK: number) => {
  const lamp = createLampModel(null)
  return heatItem('lamp', { ...REFERENCE, temperatureK } as never, {
    origin: subjectOrigin(lamp.subject()!),
  })
}
const camera = (change: object) =>
  kitItem({ id: 'camera', kind: 'camera', data: { device: 'Phone', ...change } as unknown as Json })
const SETTING = { exposureSeconds: 0.1, iso: 100, fNumber: 2, lnOff: 0, standardUncertainty: 0.1 }
const exposure = (change: object) => camera({ exposures: [{ ...SETTING, ...change }] })
const leak = (measured: object) =>
  camera({
    leakTests: [
      { test: 'remote control', seen: true, measured: { leak: 1e-3, lnSd: 1, ...measured } },
    ],
  })
const flatField = {
  lens: null,
  channels: 'camera',
  at: '',
  field: { green: 0, blue: 0, uncertainty: 0.01 },
}
const basis = (change: { spacing?: number; size?: number }) => {
  const curve = toneCurve('srgb')
  const size = change.size ?? curve.response.basis.size
  return curveItem('curve', {
    ...curve,
    response: {
      ...curve.response,
      basis: { ...curve.response.basis, ...change },
      coefficients: many(size, 0),
    },
    covariance: many((size * (size + 1)) / 2, 0),
  })
}
const columns = (count: number) => ({
  wavelengthNm: Array.from({ length: count }, (_, i) => 400 + 10 * i),
  response: many(count, 1),
  rawNoise: many(count, 0.01),
  smoothedNoise: many(count, 0.01),
  smoothingNm: many(count, 1),
  lampPeakOverSignal: many(count, 1),
})
const RESPONSE = {
  lamp: { emitter: 'tungsten', colourTemperatureK: 2856, standardUncertaintyK: 20 },
  instrument: {
    strayShare: 0,
    wavelengthUncertaintyNm: 1,
    wavelengthDriftNm: 1,
    nonlinearity: 0,
    secondOrderShare: 0,
    saturationLevel: null,
  },
  pedestal: { mean: 0, standardUncertainty: 1 },
  range: { fromNm: 400, toNm: 470, shortEnd: 'end of data', longEnd: 'end of data', excluded: [] },
  findings: [],
}
const response = (change: object) =>
  kitItem({
    id: 'response',
    kind: 'response',
    data: { response: { ...columns(8), ...RESPONSE, ...change }, range: null } as unknown as Json,
  })

describe('what the kit reads ends where no formula or screen can follow', () => {
  // Each on both sides: what is read, and what is named as unreadable.
  test.each<readonly [string, KitItem, KitItem]>([
    ['a name', heat({ cameraId: long(400) }), heat({ cameraId: long(401) })],
    [
      'errors of a curve',
      swept({ greenErrors: many(100, 0) }),
      swept({ greenErrors: many(101, 0) }),
    ],
    ['no photos of a curve', swept({ photos: 1 }), swept({ photos: 0 })],
    ['photos of a curve', swept({ photos: 1000 }), swept({ photos: 1001 })],
    ['a filament’s temperature', lampAt(4500), lampAt(4501)],
    [
      'settings of a camera',
      camera({ exposures: many(60, SETTING) }),
      camera({ exposures: many(61, SETTING) }),
    ],
    ['light more than stated', exposure({ lnOff: 5 }), exposure({ lnOff: 5.1 })],
    ['light less than stated', exposure({ lnOff: -5 }), exposure({ lnOff: -5.1 })],
    [
      'its uncertainty',
      exposure({ standardUncertainty: 5 }),
      exposure({ standardUncertainty: 5.1 }),
    ],
    ['the least leak', leak({ leak: 1e-8 }), leak({ leak: 0.95e-8 })],
    ['the most leak', leak({ leak: 1 }), leak({ leak: 1.05 })],
    ['a leak known best', leak({ lnSd: 0.01 }), leak({ lnSd: 0.0095 })],
    ['a leak known worst', leak({ lnSd: 10 }), leak({ lnSd: 10.5 })],
    [
      'flat fields',
      camera({ flatFields: many(20, flatField) }),
      camera({ flatFields: many(21, flatField) }),
    ],
    ['live streams', camera({ liveIds: many(20, 'id') }), camera({ liveIds: many(21, 'id') })],
    [
      'steps not wanted',
      camera({ skipped: many(4, 'heat') }),
      camera({ skipped: many(5, 'heat') }),
    ],
    ['a device', camera({ device: long(400) }), camera({ device: long(401) })],
    ['a device without a name', camera({ device: 'P' }), camera({ device: '' })],
    [
      'a card’s place',
      camera({ cardPlace: { x: 0, y: 0, width: 1, height: 1 } }),
      camera({ cardPlace: { x: 0, y: 0, width: 1.05, height: 1 } }),
    ],
    ['steps of a curve', basis({ spacing: 1e-3 }), basis({ spacing: 0.95e-3 })],
    ['size of a curve', basis({ size: 100 }), basis({ size: 101 })],
    [
      'least odds of a curve',
      curveItem('c', toneCurve('srgb'), { channelOdds: 1e-3 }),
      curveItem('c', toneCurve('srgb'), { channelOdds: 0.95e-3 }),
    ],
    [
      'most odds of a curve',
      curveItem('c', toneCurve('srgb'), { channelOdds: 1e3 }),
      curveItem('c', toneCurve('srgb'), { channelOdds: 1050 }),
    ],
    ['points of a response', response(columns(8)), response(columns(7))],
    [
      'a heading',
      response({ recordedAs: { heading: long(400), largest: 1 } }),
      response({ recordedAs: { heading: long(401), largest: 1 } }),
    ],
    [
      'a line on exposure',
      response({ recordedAs: { heading: null, integration: long(400), largest: 1 } }),
      response({ recordedAs: { heading: null, integration: long(401), largest: 1 } }),
    ],
  ])('%s', (_, inside, outside) => {
    expect(unreadable(inside)).toBeNull()
    expect(unreadable(outside)).toMatch(/\w/)
  })
})
