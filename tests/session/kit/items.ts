import { signal } from '@preact/signals'
import type { KnownHeatReference } from '../../../src/estimate/types.ts'
import type { ToneCurve } from '../../../src/light/exposure-sweep/tone-curve.ts'
import type { Json, KitItem } from '../../../src/log/schema/types.ts'
import type { KitModel } from '../../../src/session/kit/kit-model.ts'

/** A kit that has been read and holds nothing. */
export const emptyKit = () =>
  ({
    references: signal([]),
    curves: signal([]),
    earlierCurves: signal([]),
    cameras: signal([]),
    greys: signal([]),
    heats: signal([]),
    state: signal('read'),
  }) as unknown as KitModel

/** Kit items for tests. */
export const BALANCE = {
  id: 'card',
  logGains: [0, 0, 0],
  covariance: [
    [0, 0, 0],
    [0, 0, 0],
    [0, 0, 0],
  ],
  light: { kind: 'daylight', colourTemperatureK: 6504, standardUncertaintyK: 500 },
}

export const REFERENCE: Omit<KnownHeatReference, 'id' | 'name'> = {
  cameraId: 'Made-up phone',
  takenAt: '2026-03-01T10:00:00.000+01:00',
  temperatureK: 1073.55,
  standardUncertaintyK: 6.1,
  glow: {
    mean: [0.5, 0.04, 0.002],
    covariance: [
      [1e-6, 0, 0],
      [0, 1e-8, 0],
      [0, 0, 1e-8],
    ],
  },
  channels: 'display-p3',
  balance: null,
  balanceState: { kind: 'daylight', colourTemperatureK: null },
  linearity: { kind: 'linear' },
  surface: { id: 'steel-oxidised', lnGreenOverRed: 0, standardUncertainty: 0.03 },
  group: null,
}

export function kitItem(part: Partial<KitItem> & Pick<KitItem, 'id' | 'kind'>): KitItem {
  return {
    version: 1,
    name: part.id,
    addedAt: '2026-03-01T09:00:00.000Z',
    date: { iso: '2026-03-01T10:00:00.000+01:00', zone: '' },
    notes: '',
    cameraId: null,
    balanceState: null,
    temperatureK: null,
    standardUncertaintyK: null,
    simulated: false,
    demo: false,
    data: null,
    ...part,
  }
}

export const heatItem = (
  id: string,
  part: Partial<KnownHeatReference> = {},
  more: Record<string, unknown> = {},
): KitItem =>
  kitItem({
    id,
    kind: 'known heat',
    data: { reference: { ...REFERENCE, ...part }, ...more } as unknown as Json,
  })

/** The nominal curve, as a sweep would keep it. */
export const toneCurve = (space: ToneCurve['space']): ToneCurve => ({
  version: 2,
  kind: 'channel',
  space,
  response: {
    kind: 'channel',
    basis: { first: -8.5, spacing: 0.5, size: 23 },
    coefficients: new Array(23).fill(0),
  },
  covariance: new Array((23 * 24) / 2).fill(0),
  from: -6,
  to: 0,
  residual: 0.01,
  data: 20,
})

export const curveItem = (id: string, curve: unknown, more: Record<string, unknown> = {}) =>
  kitItem({
    id,
    kind: 'tone curve',
    cameraId: 'Made-up phone',
    data: { curve, curveId: 'Made-up phone · 1.0', ...more } as unknown as Json,
  })
