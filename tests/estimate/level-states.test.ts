import { describe, expect, test } from 'vitest'
import { type Levels, ofOnePieceOnly } from '../../src/estimate/joint-levels.ts'
import type { MeasuredLevel } from '../../src/estimate/level-equation.ts'
import { levelStates, overruledAbove } from '../../src/estimate/level-states.ts'

const level = (piece: string | null, stream = false): MeasuredLevel => ({
  value: 0,
  variance: 0.01,
  shared: [],
  channels: 'camera',
  piece,
  stream,
})
const levels = (
  readings: readonly (MeasuredLevel | null)[],
  references: readonly (MeasuredLevel | null)[] = [],
): Levels => ({ readings, references, places: new Map(), count: 0 })

describe('of one piece', () => {
  test('are several readings of it, whatever the known heats were; one reading with known heats of the same', () => {
    expect(ofOnePieceOnly(levels([level('bar'), level('bar')], [level('pan')]))).toBe(true)
    expect(ofOnePieceOnly(levels([level('bar'), level('rod')]))).toBe(false)
    expect(ofOnePieceOnly(levels([level('bar')], [level('bar')]))).toBe(true)
    expect(ofOnePieceOnly(levels([level('bar')], [level('pan')]))).toBe(false)
  })
  test('is nothing of which nobody said it; a photo without a level does not count', () => {
    expect(ofOnePieceOnly(levels([level(null), level(null)]))).toBe(false)
    expect(ofOnePieceOnly(levels([level('bar'), null, level('bar')]))).toBe(true)
  })
})

describe('how often levels are wrong', () => {
  const shareOfSound = (of: Levels) =>
    levelStates(of).reduce((sum, { share, sd }) => sum + (sd === 0 ? share : 0), 0)

  test('most of all between pieces, least where a person watches a stream of one', () => {
    const watched = levels([level('bar', true), level('bar', true)])
    const onePiece = levels([level('bar', true), level('bar', false)])
    const others = levels([level('bar')], [level('pan')])
    expect(shareOfSound(watched)).toBeGreaterThan(shareOfSound(onePiece))
    expect(shareOfSound(onePiece)).toBeGreaterThan(shareOfSound(others))
    // One frame of a stream is no watching: nobody has seen it stand.
    expect(shareOfSound(levels([level('bar', true)], [level('bar', true)]))).toBe(
      shareOfSound(onePiece),
    )
  })

  test('is the whole of what can be, and between pieces more light is lost than gained', () => {
    for (const readings of [[level('bar')], [level('bar'), level('bar')]])
      for (const references of [[level('bar')], [level('pan')]]) {
        const states = levelStates(levels(readings, references))
        expect(states.reduce((sum, { share }) => sum + share, 0)).toBeCloseTo(1, 12)
      }
    const between = levelStates(levels([level('bar')], [level('pan')]))
    const mean = between.reduce((sum, { share, lost }) => sum + share * lost, 0)
    expect(mean).toBeGreaterThan(0.1)
    expect(between.every(({ sd, lost }) => sd > 0 || lost === 0)).toBe(true)
  })

  test('colour has overruled a level half of the way from what was thought before to certainty', () => {
    const state = (share: number, sd: number) => ({ share, lost: 0, sd })
    expect(overruledAbove([state(0.8, 0), state(0.2, 0.4)])).toBeCloseTo(0.6, 12)
    expect(overruledAbove([state(1, 0)])).toBe(0.5)
  })
})
