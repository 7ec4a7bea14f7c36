import { describe, expect, test } from 'vitest'
import { CHECK_LEAVES } from '../../../src/light/exposure-sweep/check-tone-curve.ts'
import type { StoredCurve } from '../../../src/session/kit/stored-items.ts'
import { type CurveStanding, curveStanding } from '../../../src/session/reading/curve-standing.ts'
import { cameraIdOf, curveIdOf } from '../../../src/session/reading/photo-meaning.ts'
import { NO_FACTS, type PhotoFacts } from '../../../src/sources/files/photo-facts.ts'
import { toneCurve } from '../kit/items.ts'

const FACTS: PhotoFacts = {
  ...NO_FACTS,
  make: 'Made-up',
  model: 'Phone 1',
  lens: 'wide',
  software: '1.0',
  takenAt: '2026-04-01T12:00:00',
}
const NOW = new Date('2030-01-01T00:00:00Z')

const keptFor = (facts: PhotoFacts, part: Partial<StoredCurve> = {}): StoredCurve => ({
  id: 'k',
  name: 'Curve',
  curveId: curveIdOf(facts),
  cameraId: cameraIdOf(facts),
  curve: toneCurve('display-p3'),
  channelOdds: 1,
  foundAt: '2026-03-01T10:00:00.000+01:00',
  check: null,
  ...part,
})
const standingOf = (
  kept: readonly StoredCurve[],
  facts: Partial<PhotoFacts> = {},
  photo: { space?: 'display-p3' | 'srgb'; channels?: 'display-p3' | 'camera' } = {},
): CurveStanding | null =>
  curveStanding(
    { channels: 'display-p3', space: 'display-p3', ...photo, facts: { ...FACTS, ...facts } },
    kept,
    [],
    NOW,
  )

describe('a kept tone curve', () => {
  test('holds for the same camera, lens, software and colour space', () => {
    const standing = standingOf([keptFor(FACTS)])
    expect(standing).toMatchObject({ kind: 'holds', doubt: null, movedBy: 0 })
  })

  test('says nothing to raw photos, and to another device', () => {
    expect(standingOf([keptFor(FACTS)], {}, { channels: 'camera' })).toBeNull()
    expect(standingOf([keptFor(FACTS)], { model: 'Phone 12' })).toBeNull()
    expect(standingOf([], {})).toBeNull()
  })

  test.each([
    ['software', { software: '1.1' }, {}],
    ['lens', { lens: 'tele' }, {}],
    ['colour space', {}, { space: 'srgb' as const }],
  ])('is not used after a change of %s, and says so', (changed, facts, photo) => {
    expect(standingOf([keptFor(FACTS)], facts, photo)).toMatchObject({
      kind: 'other path',
      changed,
    })
  })

  test('counts as less certain half a year after it was found or last checked', () => {
    const old = keptFor(FACTS, { foundAt: '2025-06-01T10:00:00Z' })
    const standing = standingOf([old])
    expect(standing).toMatchObject({ kind: 'holds', doubt: 'unchecked for long' })
    if (standing?.kind === 'holds') {
      expect(standing.ageDays).toBeCloseTo(304, 0)
      expect(standing.movedBy).toBeGreaterThan(CHECK_LEAVES)
    }
    const check = { at: '2026-03-20T10:00:00Z', residual: 0.01, agrees: true }
    const checked = standingOf([{ ...old, check }])
    expect(checked).toMatchObject({ kind: 'holds', doubt: null })
    // A check is no sweep: some of the doubt stays.
    if (checked?.kind === 'holds') {
      expect(checked.movedBy).toBe(CHECK_LEAVES)
    }
  })

  test('a photo without a date is judged by today', () => {
    expect(standingOf([keptFor(FACTS)], { takenAt: null })).toMatchObject({
      doubt: 'unchecked for long',
    })
  })

  test('is not used once a check has found it off; a newer one takes its place', () => {
    const check = { at: '2026-03-20T10:00:00Z', residual: 0.1, agrees: false }
    const off = keptFor(FACTS, { check })
    expect(standingOf([off])).toMatchObject({ kind: 'failed', at: check.at })
    expect(standingOf([keptFor(FACTS, { id: 'new' }), off])).toMatchObject({ kind: 'holds' })
  })

  test('of a file that names no camera may be another’s', () => {
    const nameless = { ...NO_FACTS, takenAt: FACTS.takenAt }
    expect(standingOf([keptFor(nameless)], { ...nameless })).toMatchObject({
      kind: 'holds',
      doubt: 'camera not named',
    })
  })

  test('of an earlier version is named and not used', () => {
    const earlier = [{ id: 'e', name: 'Old curve', curveId: curveIdOf(FACTS) }]
    const photo = { channels: 'display-p3', space: 'display-p3', facts: FACTS } as const
    expect(curveStanding(photo, [], earlier, NOW)).toEqual({
      kind: 'earlier version',
      name: 'Old curve',
    })
    expect(curveStanding(photo, [keptFor(FACTS)], earlier, NOW)).toMatchObject({ kind: 'holds' })
  })
})
