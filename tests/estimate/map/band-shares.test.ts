import { describe, expect, test } from 'vitest'
import { bandShares } from '../../../src/estimate/map/band-shares.ts'
import { uniform } from '../../light/pictures.ts'

const band = { fromK: 1100, toK: 1200 }
const of = (kelvin: readonly number[], common95K = 0) =>
  bandShares({ temperatureK: Float32Array.from(kelvin), scale: { common95K } as never }, band)

describe('the shares of a map below, inside and above a band', () => {
  test('count what was read; both ends of the band are inside', () => {
    expect(of([1000, 1100, 1150, 1200, 1300, Number.NaN, 1301, 1302])).toMatchObject({
      below: 1 / 7,
      inside: 3 / 7,
      above: 3 / 7,
      insideFrom: 3 / 7,
      insideTo: 3 / 7,
    })
    expect(of([Number.NaN])).toBeNull()
  })

  test('inside may be all or nothing while the map as a whole may be as far off as the band', () => {
    expect(of([1140, 1150, 1160], 39)).toMatchObject({ insideFrom: 1, insideTo: 1 })
    // At 41 K up one of the three has left, at 41 K down another.
    expect(of([1140, 1150, 1160], 41)).toMatchObject({ insideFrom: 2 / 3, insideTo: 1 })
    expect(of([1050], 49)).toMatchObject({ insideFrom: 0, insideTo: 0 })
    expect(of([1050], 51)).toMatchObject({ insideFrom: 0, insideTo: 1 })
    expect(of([1250], 51)).toMatchObject({ insideFrom: 0, insideTo: 1 })
  })

  test('are the least and the most of all shifts tried one by one', () => {
    const draw = uniform(4)
    for (const common95K of [3, 20, 80, 250]) {
      const kelvin = Array.from({ length: 40 }, () => Math.round(1000 + 300 * draw()))
      let [least, most] = [kelvin.length, 0]
      for (let shift = -common95K; shift <= common95K; shift++) {
        const inside = kelvin.filter((k) => k + shift >= band.fromK && k + shift <= band.toK).length
        least = Math.min(least, inside)
        most = Math.max(most, inside)
      }
      const found = of(kelvin, common95K)!
      // Whole kelvins: between two shifts a cell may leave before the next one comes.
      expect(found.insideFrom).toBeLessThanOrEqual(least / kelvin.length)
      expect(found.insideFrom).toBeGreaterThanOrEqual((least - 2) / kelvin.length)
      expect(found.insideTo).toBe(most / kelvin.length)
    }
  })
})
