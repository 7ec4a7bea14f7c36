import { describe, expect, test } from 'vitest'
import {
  absenceTrouble,
  balanceOf,
  hasMoved,
  refusalTrouble,
  sameRegion,
  turnedSight,
} from '../../../src/session/live/live-judgement.ts'
import type { BalanceLock } from '../../../src/sources/live/lock.ts'

const at = (x: number, y: number, width = 40, height = 20) =>
  ({ shape: 'rectangle', x, y, width, height }) as const

describe('a glow that is followed', () => {
  test('has moved when its middle went by more than a quarter of the shorter side', () => {
    const before = at(100, 100)
    expect(hasMoved(null, before)).toBe(true)
    expect(hasMoved(before, at(103, 104))).toBe(false)
    expect(hasMoved(before, at(104, 104))).toBe(true)
    expect(hasMoved(before, at(94.9, 100))).toBe(true)
  })

  test('has moved when one side is half as long again, or a quarter shorter', () => {
    const before = at(100, 100)
    const about = (width: number, height: number) =>
      hasMoved(before, at(120 - width / 2, 110 - height / 2, width, height))
    expect([about(59, 20), about(61, 20)]).toEqual([false, true])
    expect([about(40, 29), about(40, 31)]).toEqual([false, true])
    expect([about(31, 20), about(29, 20)]).toEqual([false, true])
    expect([about(40, 15.1), about(40, 14.9)]).toEqual([false, true])
  })

  test('is the same region only where place and size are', () => {
    expect(sameRegion(at(1, 2), at(1, 2))).toBe(true)
    expect(sameRegion(null, at(1, 2))).toBe(false)
    for (const other of [at(2, 2), at(1, 3), at(1, 2, 41), at(1, 2, 40, 21)])
      expect(sameRegion(at(1, 2), other)).toBe(false)
  })

  test('keeps its share of a picture that is turned, and its size, within the picture', () => {
    const [lying, upright] = [
      { width: 640, height: 480 },
      { width: 480, height: 640 },
    ]
    expect(turnedSight(at(320, 240), lying, upright)).toEqual(at(240, 320))
    expect(turnedSight(at(600, 450), lying, upright)).toEqual(at(440, 600))
  })
})

test('why there is no figure is said by what is seen', () => {
  expect(['all clipped', 'all black', 'too small', 'no glow', null].map(absenceTrouble)).toEqual([
    'clipped',
    'too dark',
    'too small',
    'no glow',
    'no glow',
  ])
  expect(['clipped', 'dark', 'empty', undefined].map(refusalTrouble)).toEqual([
    'clipped',
    'too dark',
    'too small',
    'too small',
  ])
})

describe('the white balance of a live camera', () => {
  const camera = (whiteBalanceMode?: string) =>
    ({ settings: () => ({ whiteBalanceMode }) }) as unknown as Parameters<typeof balanceOf>[1]
  const locked = (colourTemperatureK: number | null) =>
    ({ whiteBalance: 'locked', colourTemperatureK }) as BalanceLock

  test('locked within 600 K of 6500 K it is the daylight preset, else a lock of its own', () => {
    for (const kelvin of [5901, 6500, 7099])
      expect(balanceOf(locked(kelvin), camera())).toEqual({
        kind: 'daylight',
        colourTemperatureK: kelvin,
      })
    for (const kelvin of [5899, 7101])
      expect(balanceOf(locked(kelvin), camera())).toEqual({
        kind: 'locked',
        colourTemperatureK: kelvin,
      })
    expect(balanceOf(locked(null), camera())).toEqual({ kind: 'locked', colourTemperatureK: null })
  })

  test('that follows the picture is automatic; of one that says nothing nothing is known', () => {
    const drifts = { whiteBalance: 'drifts', colourTemperatureK: 6500 } as BalanceLock
    expect(balanceOf(drifts, camera()).kind).toBe('automatic')
    expect(balanceOf(null, camera('continuous')).kind).toBe('automatic')
    expect(balanceOf(null, camera('manual')).kind).toBe('unknown')
    expect(balanceOf(null, camera()).kind).toBe('unknown')
  })
})
