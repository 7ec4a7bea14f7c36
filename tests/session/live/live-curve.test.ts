import { signal } from '@preact/signals'
import { describe, expect, test } from 'vitest'
import { CHECK_LEAVES } from '../../../src/light/exposure-sweep/check-tone-curve.ts'
import type { StoredCurve } from '../../../src/session/kit/stored-items.ts'
import { createLiveCurve, streamCurveId } from '../../../src/session/live/live-curve.ts'
import { toneCurve } from '../kit/items.ts'

const CAMERA = { id: 'made-up camera' }
const NOW = new Date('2026-11-01T12:00:00Z')

const keptOn = (foundAt: string, check: StoredCurve['check'] = null): StoredCurve => ({
  id: 'kept',
  name: 'Curve',
  curveId: streamCurveId(CAMERA),
  cameraId: CAMERA.id,
  curve: toneCurve('srgb'),
  channelOdds: 1,
  foundAt,
  check,
})
const curveOf = (...kept: StoredCurve[]) =>
  createLiveCurve(CAMERA, { curves: signal(kept) }, () => NOW)

describe('the tone curve of a stream', () => {
  test('is the kit’s where it holds for this stream, and has an age', () => {
    expect(curveOf(keptOn('2026-09-01T12:00:00Z')).inUse.value).toMatchObject({
      id: 'kept',
      movedBy: 0,
    })
    const old = curveOf(keptOn('2026-01-01T12:00:00Z')).inUse.value
    expect(old.recovered).not.toBeNull()
    expect(old.movedBy).toBeGreaterThan(CHECK_LEAVES)
  })

  test('counts as known again once a check has held, but for what a check leaves', () => {
    const check = { at: '2026-10-31T12:00:00Z', residual: 0.01, agrees: true }
    expect(curveOf(keptOn('2026-01-01T12:00:00Z', check)).inUse.value.movedBy).toBe(CHECK_LEAVES)
  })

  test('of the kit is not offered once it has failed a check, nor one of photos', () => {
    const check = { at: '2026-10-31T12:00:00Z', residual: 0.2, agrees: false }
    expect(curveOf(keptOn('2026-09-01T12:00:00Z', check)).kept.value).toBeNull()
    const ofPhotos = { ...keptOn('2026-09-01T12:00:00Z'), curveId: CAMERA.id }
    expect(curveOf(ofPhotos).inUse.value.recovered).toBeNull()
  })

  test('of a sweep goes before the kit’s, under its own id', () => {
    const live = curveOf(keptOn('2026-01-01T12:00:00Z'))
    live.swept.value = { id: 'new', curve: toneCurve('srgb') }
    expect(live.inUse.value).toMatchObject({ id: 'new', movedBy: 0 })
  })
})
