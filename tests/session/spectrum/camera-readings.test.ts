import { expect, test } from 'vitest'
import { REFERENCE_RANGE_K } from '../../../src/estimate/spectrum/lamp.ts'
import type { Summary } from '../../../src/log/schema/types.ts'
import { isByCamera } from '../../../src/session/spectrum/camera-readings.ts'

const summary = (change: Partial<Summary> = {}) =>
  isByCamera({
    method: 'photo',
    kind: 'temperature',
    simulated: false,
    demo: false,
    damaged: false,
    temperatureK: 1500,
    standardUncertaintyK: 30,
    ...change,
  } as Summary)

test('a spectrum is compared with what a camera measured, within what a lamp can be', () => {
  for (const method of ['photo', 'raw', 'sweep', 'live'] as const)
    expect(summary({ method }), method).toBe(true)
  expect(summary({ method: 'by hand' as never })).toBe(false)
  for (const made of ['simulated', 'demo', 'damaged'] as const)
    expect(summary({ [made]: true }), made).toBe(false)
  expect(summary({ kind: 'upper bound' })).toBe(false)
  expect(summary({ standardUncertaintyK: null })).toBe(false)
  expect(summary({ temperatureK: null })).toBe(false)
  const [least, most] = REFERENCE_RANGE_K
  for (const [temperatureK, fits] of [
    [least - 1, false],
    [least, true],
    [most, true],
    [most + 1, false],
  ] as const)
    expect(summary({ temperatureK }), `${temperatureK} K`).toBe(fits)
})
