import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import {
  CHAPMAN_RANGES,
  chapmanColour,
  chapmanColoursBetween,
  DRAPER_FIRST_GLOW_C,
  STIRLING_POINTS,
  stirlingColour,
} from '../../src/physics/heat-colours.ts'
import { kelvinFromCelsius } from '../../src/physics/units.ts'

const chapman = (celsius: number) => chapmanColour(kelvinFromCelsius(celsius))?.name
const stirling = (celsius: number) => stirlingColour(kelvinFromCelsius(celsius))

// Chapman, Workshop Technology 1 (1972), °C, as printed.
const CHAPMAN_PRINTED = [
  [426, 593, 'black red in dull light'],
  [594, 704, 'very dark red'],
  [705, 814, 'dark red'],
  [815, 870, 'cherry red'],
  [871, 981, 'light cherry red'],
  [982, 1092, 'orange'],
  [1093, 1258, 'yellow'],
  [1259, 1314, 'yellow white'],
] as const
// Stirling, A Book of Steam (1905), °C, as printed.
const STIRLING_PRINTED = [
  [525, 'just visible red'],
  [699, 'dull red'],
  [800, 'dull cherry'],
  [900, 'full cherry'],
  [1000, 'clear cherry'],
  [1100, 'deep orange'],
  [1200, 'clear orange'],
  [1300, 'white'],
  [1400, 'bright white'],
  [1500, 'dazzling white'],
] as const

describe('heat colours of steel', () => {
  it('have the name of Chapman at both ends of each printed range', () => {
    for (const [from, to, name] of CHAPMAN_PRINTED) {
      expect(chapman(from)).toBe(name)
      expect(chapman(to)).toBe(name)
      expect(chapman(to + 0.9)).toBe(name)
    }
    expect([chapman(1315), chapman(2500)]).toEqual(['white', 'white'])
    expect(chapman(425.9)).toBeUndefined()
    expect(CHAPMAN_RANGES.length).toBe(CHAPMAN_PRINTED.length + 1)
  })

  it('have the name of Stirling at each printed point', () => {
    for (const [at, name] of STIRLING_PRINTED) {
      expect(stirling(at).below?.name).toBe(name)
      expect(stirling(at).nearest.name).toBe(name)
    }
    expect(STIRLING_POINTS.length).toBe(STIRLING_PRINTED.length)
  })

  it('lie between two of Stirling, the nearer one named, open at the ends', () => {
    const between = stirling(860)
    expect([between.below?.name, between.above?.name]).toEqual(['dull cherry', 'full cherry'])
    expect(between.nearest.name).toBe('full cherry')
    expect(stirling(500).below).toBeUndefined()
    expect(stirling(500).nearest.name).toBe('just visible red')
    expect(stirling(1600).above).toBeUndefined()
    expect(stirling(1600).nearest.name).toBe('dazzling white')
  })

  it('disagree: at 900 °C light cherry red and full cherry; first glow 525 °C (Draper 1847)', () => {
    expect(chapman(900)).toBe('light cherry red')
    expect(stirling(900).nearest.name).toBe('full cherry')
    expect(DRAPER_FIRST_GLOW_C).toBe(525)
  })

  it('list every name that an interval touches, in order', () => {
    const names = chapmanColoursBetween(kelvinFromCelsius(860), kelvinFromCelsius(990)).map(
      (colour) => colour.name,
    )
    expect(names).toEqual(['cherry red', 'light cherry red', 'orange'])
    expect(chapmanColoursBetween(300, 400)).toEqual([])
  })

  it('always contain the temperature that they name', () => {
    fc.assert(
      fc.property(fc.double({ min: 200, max: 4000, noNaN: true }), (t) => {
        const colour = chapmanColour(t)
        if (colour) expect(t >= colour.fromK - 1e-8 && t < colour.toK + 1e-8).toBe(true)
        else expect(t).toBeLessThan(kelvinFromCelsius(426))
        const { below, above, nearest } = stirlingColour(t)
        if (below) expect(below.temperatureK).toBeLessThanOrEqual(t + 1e-8)
        if (above) expect(above.temperatureK).toBeGreaterThan(t)
        const distance = Math.abs(nearest.temperatureK - t)
        for (const { atC } of STIRLING_POINTS)
          expect(distance).toBeLessThanOrEqual(Math.abs(kelvinFromCelsius(atC) - t) + 1e-8)
      }),
    )
  })
})
